// A ledger on a stick or a network folder: away for a while, and back.
#include "base/failure.hpp"
#include "ledger/mend/backups.hpp"
#include "ledger/mend/check.hpp"
#include "ledger/workshop.hpp"
#include "support/catch.hpp"

#include <fstream>

using namespace platewright;
using namespace platewright::ledger;
using namespace platewright::test;

namespace {

namespace fs = std::filesystem;

/// Takes a folder away as a stick goes: what a program has open of it is no longer the file there.
struct Stick {
    explicit Stick(fs::path at) : at_{std::move(at)}, away_{at_.string() + ".away"} {}
    void pull() {
        fs::copy(at_, away_, fs::copy_options::recursive);
        fs::remove_all(at_);
    }
    void put_back() { fs::copy(away_, at_, fs::copy_options::recursive); }

private:
    fs::path at_, away_;
};

} // namespace

TEST_CASE(
    "a stick that was pulled out is noticed, and back again, work goes on and nothing is lost") {
    const TemporaryFolder folder;
    const fs::path place = folder.path() / "ledger";
    Workshop workshop{place};
    workshop.add_tap(1);
    Stick stick{place};
    stick.pull();
    for (int attempt = 0; attempt < 3; ++attempt)
        CHECK_THROWS_WITH(workshop.add_tap(2), ContainsSubstring("no longer where it was"));
    CHECK_FALSE(fs::exists(place)); // nothing is begun in its place
    stick.put_back();
    workshop.add_tap(3);
    const auto history = workshop.store.history(workshop.plate);
    REQUIRE(history->sessions.at(0).taps.size() == 2);
    CHECK(workshop.store.load(history->sessions[0].taps[1]).samples.size() == 4800);
    CHECK(check(place).whole());
    CHECK(Store{place}.read_only()); // the lock is held again
}

TEST_CASE("what is read after a stick came back is what lies on it") {
    const TemporaryFolder folder;
    const fs::path place = folder.path() / "ledger";
    Workshop workshop{place};
    workshop.add_tap(1);
    Stick stick{place};
    stick.pull();
    stick.put_back();
    CHECK(workshop.store.overview().size() == 1);
    CHECK(workshop.store.history(workshop.plate)->sessions.at(0).taps.size() == 1);
}

TEST_CASE("another ledger in a stick's place is not written into") {
    const TemporaryFolder folder;
    const fs::path place = folder.path() / "ledger";
    Workshop workshop{place};
    Stick stick{place};
    stick.pull();
    { const Workshop other{place}; }
    CHECK_THROWS_WITH(workshop.add_tap(1), ContainsSubstring("Another ledger"));
    CHECK(Store{place}.history(1)->sessions.at(0).taps.empty());
    fs::remove_all(place);
    stick.put_back();
    workshop.add_tap(1);
    CHECK(workshop.store.history(1)->sessions.at(0).taps.size() == 1);
}

TEST_CASE(
    "where another program took the ledger meanwhile, it can only be read, and that is said") {
    const TemporaryFolder folder;
    const fs::path place = folder.path() / "ledger";
    Workshop workshop{place};
    Stick stick{place};
    stick.pull();
    stick.put_back();
    Store other{place};
    REQUIRE_FALSE(other.read_only());
    CHECK_THROWS_WITH(workshop.add_tap(1), ContainsSubstring("another program"));
    other.add(some_tap(1, 2), some_sound(2));
}

TEST_CASE("a damaged database is told from a whole one, quickly") {
    const TemporaryFolder folder;
    {
        Workshop workshop{folder.path()};
        for (int number = 1; number < 30; ++number)
            workshop.add_tap(number);
    }
    CHECK(is_whole(folder.path()));
    const fs::path file = folder.path() / "ledger.sqlite";
    std::fstream bytes{file, std::ios::binary | std::ios::in | std::ios::out};
    for (std::streamoff page = 2; page < 20; ++page) { // not the first, which says what it is
        bytes.seekp(page * 4096);
        bytes << std::string(64, '\x55');
    }
    bytes.close();
    CHECK_FALSE(is_whole(folder.path()));
    std::ofstream{file, std::ios::trunc} << "no database at all, but long enough to be looked at";
    CHECK_FALSE(is_whole(folder.path()));
}
