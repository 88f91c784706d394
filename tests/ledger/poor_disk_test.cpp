// Disks that lack what a good one has: shared memory, locks, room.
#include "base/failure.hpp"
#include "ledger/faults.hpp"
#include "ledger/mend/check.hpp"
#include "ledger/mount.hpp"
#include "ledger/workshop.hpp"
#include "support/catch.hpp"

#include <cerrno>
#include <fstream>
#include <unistd.h>

using namespace platewright;
using namespace platewright::ledger;
using namespace platewright::test;

namespace {

namespace fs = std::filesystem;

struct NoSharedMemory {
    NoSharedMemory() { Faults::lack_shared_memory(true); }
    ~NoSharedMemory() { Faults::lack_shared_memory(false); }
    NoSharedMemory(const NoSharedMemory&) = delete;
    NoSharedMemory& operator=(const NoSharedMemory&) = delete;
};

std::string journal_of(const fs::path& ledger) {
    Database database{ledger / "ledger.sqlite", Database::Access::read_only};
    Statement row{database, "PRAGMA journal_mode"};
    return row.step() ? row.text() : std::string{};
}

} // namespace

TEST_CASE(
    "where no memory can be shared a ledger opens all the same, a new one and one from elsewhere") {
    const TemporaryFolder folder;
    const fs::path from_elsewhere = folder.path() / "from elsewhere",
                   made_there = folder.path() / "made there";
    {
        Workshop workshop{from_elsewhere};
        workshop.add_tap(1);
    }
    REQUIRE(journal_of(from_elsewhere) == "wal");
    {
        const NoSharedMemory poor;
        Store store{from_elsewhere};
        REQUIRE_FALSE(store.read_only());
        store.add(some_tap(1, 2), some_sound(2));
        CHECK(Store{from_elsewhere, Access::read_only}.history(1)->sessions.at(0).taps.size() == 2);
        Workshop made{made_there};
        made.add_tap(1);
        made.add_tap(2);
        CHECK(Store{made_there}.read_only());
        CHECK(check(made_there).whole());
    }
    CHECK(journal_of(from_elsewhere) == "delete");
    for (const fs::path& ledger : {from_elsewhere, made_there}) {
        Store store{ledger}; // and on a disk that can
        store.add(some_tap(1, 3), some_sound(3));
        CHECK(store.history(1)->sessions.at(0).taps.size() == 3);
        CHECK(check(ledger).whole());
    }
}

TEST_CASE("an older copy put in place on such a disk costs no tap either") {
    const NoSharedMemory poor;
    const TemporaryFolder folder;
    const fs::path ledger = folder.path() / "ledger", older = folder.path() / "older.sqlite";
    Workshop workshop{ledger};
    workshop.add_tap(1);
    Database{ledger / "ledger.sqlite", Database::Access::read_only}.copy_to(older);
    workshop.add_tap(2);
    fs::rename(older, ledger / "ledger.sqlite");
    workshop.add_tap(3);
    CHECK(workshop.store.history(1)->sessions.at(0).taps.size() == 3);
    CHECK(check(ledger).whole());
}

TEST_CASE("where a new ledger can't be made nothing of it is left behind") {
    int refused = 0;
    for (int calls = 0; calls < 40; ++calls) {
        CAPTURE(calls);
        const TemporaryFolder folder{memory_folder()};
        const fs::path ledger = folder.path() / "new";
        Faults::arm(calls, EIO, true);
        bool made = true;
        try {
            const Store store{ledger};
        } catch (const base::Failure&) {
            made = false;
        }
        Faults::disarm();
        refused += made ? 0 : 1;
        CHECK(fs::exists(ledger / "ledger.sqlite") == made);
        CHECK(fs::exists(ledger) == made);
    }
    CHECK(refused > 6);
}

TEST_CASE("where a disk knows no locks a ledger opens, and says what the maker has to mind") {
    const TemporaryFolder folder;
    Faults::lack_locks(true);
    Workshop workshop{folder.path() / "ledger"};
    Faults::lack_locks(false);
    CHECK_FALSE(workshop.store.read_only());
    workshop.add_tap(1);
    const auto told = workshop.store.take_notices();
    REQUIRE(told.size() == 1);
    CHECK_THAT(told[0], ContainsSubstring("knows no locks"));
}

TEST_CASE("on a disk that is full from the beginning a ledger is read, and written to once there "
          "is room") {
    const SmallDisk disk{1200};
    if (!disk.mounted()) {
        WARN("no file system can be mounted here: the full disk is not tried");
        return;
    }
    const fs::path ledger = disk.path() / "ledger", filler = disk.path() / "filler";
    { const Workshop workshop{ledger}; }
    {
        std::ofstream fill{filler, std::ios::binary};
        const std::string block(4096, 'x');
        while (fill.write(block.data(), 4096).flush())
            ;
    }
    Store store{ledger};
    CHECK(store.overview().size() == 1);
    CHECK(store.history(1)->sessions.size() == 1);
    CHECK_THROWS_WITH(store.add(some_tap(1, 1), some_sound(1)), ContainsSubstring("disk is full"));
    fs::remove(filler);
    ::usleep(1'100'000);
    store.add(some_tap(1, 1), some_sound(1));
    CHECK(store.history(1)->sessions.at(0).taps.size() == 1);
}

TEST_CASE("what can't be read just now is not called damaged, and is there again afterwards") {
    const TemporaryFolder folder;
    const fs::path ledger = folder.path() / "ledger";
    {
        Workshop workshop{ledger};
        workshop.add_tap(1);
    }
    const auto read = [&] { return Store{ledger, Access::read_only}.history(1); };
    Faults::lack_reading(true);
    std::string said;
    try {
        read();
    } catch (const base::Failure& failure) {
        said = failure.what();
    }
    Faults::lack_reading(false);
    CHECK_THAT(said, ContainsSubstring("could not be read just now") &&
                         ContainsSubstring("before going back to any older copy"));
    CHECK(said.find("damaged") == std::string::npos);
    CHECK(read()->sessions.at(0).taps.size() == 1);
}
