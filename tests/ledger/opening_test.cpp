// How a ledger is opened, and when it is not.
#include "base/failure.hpp"
#include "ledger/files/file_safety.hpp"
#include "ledger/mount.hpp"
#include "ledger/tables/database.hpp"
#include "ledger/tables/schema.hpp"
#include "ledger/workshop.hpp"
#include "support/catch.hpp"

#include <fmt/format.h>
#include <fstream>
#include <memory>
#include <sys/stat.h>
#include <unistd.h>

using namespace platewright;
using namespace platewright::ledger;
using namespace platewright::test;

namespace {

std::string refusal_to_open(const std::filesystem::path& folder,
                            Access access = Access::read_write) {
    try {
        const Store store{folder, access};
    } catch (const base::Failure& failure) {
        return failure.what();
    }
    return {};
}

bool says(const std::string& sentence, std::string_view words) {
    return sentence.find(words) != std::string::npos;
}

void set_pragma(const std::filesystem::path& folder, const std::string& pragma) {
    Database database{folder / "ledger.sqlite", Database::Access::read_write};
    database.run("PRAGMA " + pragma);
}

} // namespace

TEST_CASE(
    "a second program on the same ledger only reads, says why, and sees the first one's taps") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path()};
    Store second{folder.path()};
    CHECK(second.read_only());
    CHECK(second.why_read_only() == "another program has it open");
    workshop.add_tap(1);
    CHECK(second.history(workshop.plate)->sessions[0].taps.size() == 1);
    CHECK_THROWS_AS(second.add(some_instrument()), base::Failure);
    CHECK_THROWS_AS(second.set_setting("a", "b"), base::Failure);
    CHECK_THROWS_AS(second.add(some_tap(workshop.session, 2), some_sound(2)), base::Failure);
    CHECK(workshop.store.overview().size() == 1);
}

TEST_CASE("the ledger is free for writing again once the first program is gone") {
    const TemporaryFolder folder;
    { const Workshop workshop{folder.path()}; }
    CHECK_FALSE(Store{folder.path()}.read_only());
}

TEST_CASE("opened for reading only, a ledger is neither made nor written") {
    const TemporaryFolder folder;
    CHECK(says(refusal_to_open(folder.path() / "none", Access::read_only), "no ledger"));
    CHECK_FALSE(std::filesystem::exists(folder.path() / "none"));
    { const Workshop workshop{folder.path()}; }
    Store store{folder.path(), Access::read_only};
    CHECK(store.read_only());
    CHECK(store.overview().size() == 1);
    CHECK_THROWS_AS(store.add(some_instrument()), base::Failure);
}

TEST_CASE("a folder with other things in it is not made into a ledger") {
    const TemporaryFolder folder;
    std::ofstream{folder.path() / "letter.txt"} << "dear";
    CHECK(says(refusal_to_open(folder.path()), "holds other things"));
    CHECK(std::distance(std::filesystem::directory_iterator{folder.path()}, {}) == 1);
    CHECK(says(refusal_to_open(folder.path() / "letter.txt"), "no ledger"));
}

TEST_CASE("a ledger of a newer version is refused with a clear sentence and left as it was") {
    const TemporaryFolder folder;
    { const Workshop workshop{folder.path()}; }
    set_pragma(folder.path(), "user_version = 1000");
    CHECK(says(refusal_to_open(folder.path()), "tables are version 1000"));
    CHECK(says(refusal_to_open(folder.path(), Access::read_only), "newer Platewright"));
    set_pragma(folder.path(), "user_version = " + std::to_string(schema_steps().size()));
    CHECK(Store{folder.path()}.overview().size() == 1);
}

TEST_CASE("a database of another program, and one that is none, are refused and left alone") {
    const TemporaryFolder folder;
    { const Workshop workshop{folder.path()}; }
    set_pragma(folder.path(), "application_id = 7");
    CHECK(says(refusal_to_open(folder.path()), "another program"));

    const TemporaryFolder other;
    std::ofstream{other.path() / "ledger.sqlite"} << std::string(5000, 'x');
    CHECK(says(refusal_to_open(other.path()), "damaged"));
    CHECK(std::filesystem::file_size(other.path() / "ledger.sqlite") == 5000);
}

TEST_CASE("a ledger folder that goes away is noticed before anything is written into nowhere") {
    const TemporaryFolder folder;
    const auto place = folder.path() / "ledger", elsewhere = folder.path() / "moved";
    Workshop workshop{place};
    workshop.add_tap(1);
    std::filesystem::rename(place, elsewhere);
    CHECK_THROWS_AS(workshop.add_tap(2), base::Failure);
    CHECK_FALSE(std::filesystem::exists(place));
    std::filesystem::rename(elsewhere, place);
    workshop.add_tap(3);
    CHECK(workshop.store.history(workshop.plate)->sessions[0].taps.size() == 2);
}

TEST_CASE("recordings half written when a program died are cleared away at the next opening") {
    const TemporaryFolder folder;
    { const Workshop workshop{folder.path()}; }
    const auto incoming = folder.path() / "recordings" / "incoming";
    const auto leftover = incoming / (std::string(64, 'a') + ".flac");
    std::ofstream{leftover} << "half";
    for (const char* name : {"letter.txt", "abc.flac", "song.flac"})
        std::ofstream{incoming / name} << "mine";
    std::filesystem::create_directory(incoming / (std::string(64, 'b') + ".flac"));
    { const Store reader{folder.path(), Access::read_only}; }
    CHECK(std::filesystem::exists(leftover));
    { const Store writer{folder.path()}; }
    CHECK_FALSE(std::filesystem::exists(leftover));
    CHECK(std::distance(std::filesystem::directory_iterator{incoming}, {}) ==
          4); // what is not ours
}

TEST_CASE("a link among the ledger's folders and files is never written through") {
    for (const char* name :
         {"recordings", "recordings/incoming", "backups", "ledger.sqlite", "ledger.lock"}) {
        CAPTURE(name);
        const TemporaryFolder folder;
        const auto ledger = folder.path() / "ledger", elsewhere = folder.path() / "elsewhere";
        { const Workshop workshop{ledger}; }
        std::filesystem::create_directory(ledger / "backups");
        std::filesystem::rename(ledger / name, elsewhere);
        std::filesystem::create_symlink(elsewhere, ledger / name);
        const auto photograph = std::filesystem::is_directory(elsewhere)
                                    ? elsewhere / (std::string(64, 'a') + ".flac")
                                    : folder.path() / "photograph";
        std::ofstream{photograph} << "mine";
        const auto before = std::filesystem::last_write_time(elsewhere);
        Store store{ledger};
        CHECK(store.read_only());
        CHECK(says(store.why_read_only(), "link to another place"));
        CHECK(store.overview().size() == 1);
        CHECK_THROWS_WITH(store.add(some_tap(1, 1), some_sound(1)), ContainsSubstring("link"));
        CHECK(std::filesystem::exists(photograph));
        CHECK(std::filesystem::last_write_time(elsewhere) == before);
    }
}

TEST_CASE("a link in a recording's place, or its folder's, is not written through") {
    const TemporaryFolder folder;
    const auto ledger = folder.path() / "ledger", elsewhere = folder.path() / "elsewhere";
    { const Workshop workshop{ledger}; }
    std::filesystem::create_directory(elsewhere);
    const auto places = [&ledger] { // of whatever name a recording gets
        std::vector<std::filesystem::path> all;
        for (int i = 0; i < 256; ++i)
            all.push_back(ledger / "recordings" / fmt::format("{:02x}", i));
        return all;
    }();
    for (const auto& place : places)
        std::filesystem::create_directory_symlink(elsewhere, place);
    Store store{ledger};
    CHECK_THROWS_WITH(store.add(some_tap(1, 1), some_sound(1)), ContainsSubstring("link"));
    CHECK(std::filesystem::is_empty(elsewhere));
    for (const auto& place : places)
        std::filesystem::remove(place);
    std::ofstream{elsewhere / "photograph"} << "mine";
    const auto staging = ledger / "recordings" / "incoming";
    std::filesystem::create_symlink(elsewhere / "photograph", staging / "one.flac");
    std::filesystem::create_directory(places.front());
    write_durably(places.front() / "one.flac", std::vector<std::byte>(100), staging);
    CHECK(std::filesystem::file_size(elsewhere / "photograph") == 4);
    CHECK(std::filesystem::is_regular_file(
        std::filesystem::symlink_status(places.front() / "one.flac")));
}

TEST_CASE("a ledger that could only be read for a while is written to again without a restart") {
    const TemporaryFolder folder;
    { const Workshop workshop{folder.path()}; }
    auto first = std::make_unique<Store>(folder.path());
    Store second{folder.path()};
    REQUIRE(second.read_only());
    first.reset();
    ::usleep(1'100'000); // it looks again at most once a second
    CHECK_FALSE(second.read_only());
    second.add(some_tap(1, 1), some_sound(1));
    CHECK(second.history(1)->sessions.at(0).taps.size() == 1);
    CHECK(Store{folder.path()}.read_only());
}

TEST_CASE("a disk that was read-only when it came back is written to once it can be") {
    const SmallDisk disk{4000};
    if (!disk.mounted()) {
        WARN("not checked: no right to mount a disk");
        return;
    }
    { const Workshop workshop{disk.path() / "ledger"}; }
    REQUIRE(disk.make_read_only(true));
    Store store{disk.path() / "ledger"};
    REQUIRE(store.read_only());
    CHECK_THROWS_WITH(store.add(some_tap(1, 1), some_sound(1)), ContainsSubstring("only be read"));
    REQUIRE(disk.make_read_only(false));
    ::usleep(1'100'000);
    store.add(some_tap(1, 1), some_sound(1));
    CHECK(store.history(1)->sessions.at(0).taps.size() == 1);
}
