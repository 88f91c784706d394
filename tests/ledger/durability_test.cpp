// What is acknowledged is there afterwards: after a kill, a full disk, a failing one.
#include "base/failure.hpp"
#include "ledger/faults.hpp"
#include "ledger/mount.hpp"
#include "ledger/tables/database.hpp"
#include "ledger/workshop.hpp"
#include "support/catch.hpp"

#include <array>
#include <cerrno>
#include <csignal>
#include <random>
#include <set>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

using namespace platewright;
using namespace platewright::ledger;
using namespace platewright::test;

namespace {

void check_integrity(const std::filesystem::path& folder) {
    Database database{folder / "ledger.sqlite", Database::Access::read_write};
    Statement found{database, "PRAGMA integrity_check"};
    REQUIRE(found.step());
    CHECK(found.text() == "ok");
    Statement strays{database, "PRAGMA foreign_key_check"};
    CHECK_FALSE(strays.step());
}

/// Numbers of the taps that are kept whole: the row, its partials, and its recording, sample by
/// sample.
std::set<int> whole_taps(const Store& store, Id plate) {
    std::set<int> numbers;
    const std::optional<PlateHistory> history = store.history(plate);
    REQUIRE(history);
    for (const TapRecord& tap : history->sessions.at(0).taps) {
        const int number = static_cast<int>(tap.onset_frame / 1000);
        CHECK(tap.partials.size() == 2);
        CHECK(store.load(tap).samples.size() == some_sound(number, 1200).samples.size());
        numbers.insert(number);
    }
    return numbers;
}

Id add_short_tap(Workshop& workshop, int number) {
    return workshop.store.add(some_tap(workshop.session, number), some_sound(number, 1200));
}

} // namespace

TEST_CASE(
    "after every single failing write, sync, rename: what was kept is there, and work goes on") {
    for (const int error : {ENOSPC, EIO})
        for (const bool lasting : {false, true}) {
            bool struck = true;
            int calls = 0;
            for (; struck; ++calls) {
                CAPTURE(error, lasting, calls);
                const TemporaryFolder folder{memory_folder()};
                std::set<int> acknowledged{1};
                Id plate = 0;
                {
                    Workshop workshop{folder.path()};
                    plate = workshop.plate;
                    add_short_tap(workshop, 1);
                    Faults::arm(calls, error, lasting);
                    try {
                        add_short_tap(workshop, 2);
                        acknowledged.insert(2);
                    } catch (const base::Failure& failure) {
                        Faults::disarm();
                        CHECK(Faults::struck());
                        CHECK(std::string{failure.what()}.find("kept") != std::string::npos);
                    }
                    Faults::disarm();
                    struck = Faults::struck();
                    add_short_tap(workshop, 3);
                    acknowledged.insert(3);
                    const std::set<int> there = whole_taps(workshop.store, plate);
                    CHECK(there == acknowledged);
                    CHECK(std::filesystem::is_empty(folder.path() / "recordings" / "incoming"));
                }
                check_integrity(folder.path());
                CHECK(whole_taps(Store{folder.path()}, plate) == acknowledged);
            }
            // A folder, the recording's write, two syncs and rename, the journal's pages and sync:
            // fewer would mean that the faults do not reach them.
            CHECK(calls > 8);
        }
}

TEST_CASE("a disk that fails while a ledger is closed, or made, takes nothing with it") {
    for (const int error : {ENOSPC, EIO}) {
        bool struck = true;
        for (int calls = 0; struck; ++calls) {
            CAPTURE(error, calls);
            const TemporaryFolder folder{memory_folder()};
            Id plate = 0;
            {
                Workshop workshop{folder.path()};
                plate = workshop.plate;
                add_short_tap(workshop, 1);
                Faults::arm(calls, error, true);
            }
            Faults::disarm();
            struck = Faults::struck();
            CHECK(whole_taps(Store{folder.path()}, plate) == std::set{1});
            check_integrity(folder.path());
        }
        struck = true;
        for (int calls = 0; struck; ++calls) {
            CAPTURE(error, calls);
            const TemporaryFolder folder{memory_folder()};
            Faults::arm(calls, error, true);
            try {
                const Store store{folder.path() / "new"};
            } catch (const base::Failure&) {
                CHECK(Faults::struck());
            }
            Faults::disarm();
            struck = Faults::struck();
            Workshop workshop{folder.path() / "new"}; // made after all, or made anew
            add_short_tap(workshop, 1);
            CHECK(whole_taps(workshop.store, workshop.plate) == std::set{1});
        }
    }
}

TEST_CASE("on a full disk nothing kept is lost, it is said, and work goes on when there is room") {
    const SmallDisk disk{700};
    if (!disk.mounted()) {
        WARN("no file system can be mounted here: the full disk is not tried");
        return;
    }
    std::string sentence;
    std::set<int> acknowledged;
    Workshop workshop{disk.path() / "ledger"};
    for (int number = 1; sentence.empty(); ++number) {
        REQUIRE(number < 1000);
        try {
            add_short_tap(workshop, number);
            acknowledged.insert(number);
        } catch (const base::Failure& failure) {
            sentence = failure.what();
        }
    }
    CHECK(sentence.find("disk is full") != std::string::npos);
    CHECK(whole_taps(workshop.store, workshop.plate) == acknowledged);
    {
        const Store reader{disk.path() / "ledger", Access::read_only};
        CHECK(whole_taps(reader, workshop.plate) == acknowledged);
    }
    // Room again: the maker deletes some other file.
    REQUIRE(::mount("none", disk.path().c_str(), "tmpfs", MS_REMOUNT, "size=2000k") == 0);
    add_short_tap(workshop, 900);
    acknowledged.insert(900);
    CHECK(whole_taps(workshop.store, workshop.plate) == acknowledged);
}

TEST_CASE("a ledger on a disk that cannot be written is read, and says why it is only read") {
    SmallDisk disk{2000};
    if (!disk.mounted()) {
        WARN("no file system can be mounted here: the read-only disk is not tried");
        return;
    }
    Id plate = 0;
    {
        Workshop workshop{disk.path() / "ledger"};
        plate = workshop.plate;
        add_short_tap(workshop, 1);
    }
    REQUIRE(disk.make_read_only());
    Store store{disk.path() / "ledger"};
    CHECK(store.read_only());
    CHECK(store.why_read_only() == "its folder cannot be written to");
    CHECK(whole_taps(store, plate) == std::set{1});
    CHECK_THROWS_AS(store.set_setting("a", "b"), base::Failure);
    CHECK_THROWS_AS(Store{disk.path() / "another"}, base::Failure);
}

TEST_CASE("a limit on the size of files is a full disk too") {
    const TemporaryFolder folder;
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) { // exits 0 when all is as promised
        int verdict = 1;
        try {
            Workshop workshop{folder.path()};
            add_short_tap(workshop, 1);
            std::signal(SIGXFSZ, SIG_IGN);
            const rlimit limit{600, 600};
            ::setrlimit(RLIMIT_FSIZE, &limit);
            add_short_tap(workshop, 2);
        } catch (const base::Failure& failure) {
            verdict = std::string{failure.what()}.find("disk is full") != std::string::npos ? 0 : 2;
        }
        ::_exit(verdict);
    }
    int status = 0;
    ::waitpid(child, &status, 0);
    CHECK(WIFEXITED(status));
    CHECK(WEXITSTATUS(status) == 0);
    CHECK(whole_taps(Store{folder.path()}, 1) == std::set{1});
}

namespace {

/// What a child that keeps on tapping and editing has acknowledged through a pipe.
struct Storm {
    std::set<int> taps;
    int last_edit = 0;
};

struct Acknowledgement {
    char kind = 0; // 't'ap or 'e'dit
    int number = 0;
};

[[noreturn]] void rage(const std::filesystem::path& folder, int first, int pipe) {
    Store store{folder};
    SessionRecord session = some_session(1);
    session.id = 1;
    for (int number = first;; ++number) {
        store.add(some_tap(1, number), some_sound(number, 1200));
        const Acknowledgement tap{'t', number};
        if (::write(pipe, &tap, sizeof tap) < 0)
            ::_exit(1);
        session.notes = std::to_string(number);
        store.update(session);
        store.set_modes(1, {some_mode(150.0 + number), some_mode(300.0 + number, 5)});
        store.name_mode(1, 300.0 + number, 5);
        const Acknowledgement edit{'e', number};
        if (::write(pipe, &edit, sizeof edit) < 0)
            ::_exit(1);
    }
}

/// Lets a child rage and kills it after `microseconds` from its first acknowledgement.
Storm kill_in_mid_storm(const std::filesystem::path& folder, int first, unsigned microseconds) {
    std::array<int, 2> ends{};
    REQUIRE(::pipe(ends.data()) == 0);
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        ::close(ends[0]);
        rage(folder, first, ends[1]);
    }
    ::close(ends[1]);
    Storm storm;
    Acknowledgement heard;
    bool killed = false;
    while (::read(ends[0], &heard, sizeof heard) == sizeof heard) {
        if (heard.kind == 't')
            storm.taps.insert(heard.number);
        else
            storm.last_edit = heard.number;
        if (!killed) {
            ::usleep(microseconds);
            ::kill(child, SIGKILL);
            killed = true;
        }
    }
    ::close(ends[0]);
    ::waitpid(child, nullptr, 0);
    CHECK(killed);
    return storm;
}

void survive_kills(int kills) {
    const TemporaryFolder folder{memory_folder()};
    { const Workshop workshop{folder.path()}; }
    std::mt19937 random{11};
    std::uniform_int_distribution<unsigned> moment{0, 20'000};
    std::set<int> acknowledged;
    for (int kill = 0; kill < kills; ++kill) {
        const Storm storm = kill_in_mid_storm(folder.path(), 1 + 1000 * kill, moment(random));
        acknowledged.insert(storm.taps.begin(), storm.taps.end());
        const Store store{folder.path()};
        CHECK_FALSE(store.read_only()); // the dead one's lock is gone
        const auto session = store.history(1)->sessions.at(0);
        std::set<int> there;
        for (const TapRecord& tap : session.taps)
            there.insert(static_cast<int>(tap.onset_frame / 1000));
        CHECK(std::ranges::includes(there, acknowledged));
        CHECK((storm.last_edit == 0 || std::stoi(session.session.notes) >= storm.last_edit));
        CHECK((session.modes.size() == 2 || (session.modes.empty() && storm.last_edit == 0)));
        if (kill % 20 == 0)
            check_integrity(folder.path());
    }
    check_integrity(folder.path());
    CHECK(std::ranges::includes(whole_taps(Store{folder.path()}, 1), acknowledged));
}

} // namespace

TEST_CASE("killed at any moment, a program leaves every tap and edit it had acknowledged") {
    survive_kills(8);
}

TEST_CASE("three hundred kills in a storm of taps and edits", "[.][storm]") { survive_kills(300); }
