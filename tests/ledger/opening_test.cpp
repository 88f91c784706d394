// How a ledger is opened, and when it is not.
#include "base/failure.hpp"
#include "ledger/database.hpp"
#include "ledger/schema.hpp"
#include "ledger/workshop.hpp"
#include "support/catch.hpp"

#include <fstream>
#include <sys/stat.h>

using namespace platewright;
using namespace platewright::ledger;
using namespace platewright::test;

namespace {

std::string refusal(const std::filesystem::path& folder, Access access = Access::read_write) {
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
    CHECK(says(refusal(folder.path() / "none", Access::read_only), "no ledger"));
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
    CHECK(says(refusal(folder.path()), "holds other things"));
    CHECK(std::distance(std::filesystem::directory_iterator{folder.path()}, {}) == 1);
    CHECK(says(refusal(folder.path() / "letter.txt"), "no ledger"));
}

TEST_CASE("a ledger of a newer version is refused with a clear sentence and left as it was") {
    const TemporaryFolder folder;
    { const Workshop workshop{folder.path()}; }
    set_pragma(folder.path(), "user_version = 1000");
    CHECK(says(refusal(folder.path()), "tables are version 1000"));
    CHECK(says(refusal(folder.path(), Access::read_only), "newer Platewright"));
    set_pragma(folder.path(), "user_version = " + std::to_string(schema_steps().size()));
    CHECK(Store{folder.path()}.overview().size() == 1);
}

TEST_CASE("a database of another program, and one that is none, are refused and left alone") {
    const TemporaryFolder folder;
    { const Workshop workshop{folder.path()}; }
    set_pragma(folder.path(), "application_id = 7");
    CHECK(says(refusal(folder.path()), "another program"));

    const TemporaryFolder other;
    std::ofstream{other.path() / "ledger.sqlite"} << std::string(5000, 'x');
    CHECK(says(refusal(other.path()), "damaged"));
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
    const auto leftover = folder.path() / "recordings" / "incoming" / "abc.flac";
    std::ofstream{leftover} << "half";
    { const Store reader{folder.path(), Access::read_only}; }
    CHECK(std::filesystem::exists(leftover));
    { const Store writer{folder.path()}; }
    CHECK_FALSE(std::filesystem::exists(leftover));
}
