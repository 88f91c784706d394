#include "base/clock.hpp"

#include "support/catch.hpp"

using namespace platewright::base;

TEST_CASE("a moment survives being written and read") {
    // POSIX: 1 000 000 000 s after the epoch is 2001-09-09T01:46:40Z.
    const Timestamp moment{1'000'000'000'123};
    CHECK(to_iso(moment) == "2001-09-09T01:46:40.123Z");
    CHECK(from_iso(to_iso(moment)) == moment);
    CHECK(from_iso("2001-09-09T01:46:40Z") == Timestamp{1'000'000'000'000});
    CHECK(from_iso("2001-09-09") == Timestamp{999'993'600'000});
}

TEST_CASE("what is no date is refused") {
    for (const char* text : {"", "yesterday", "2001-13-01", "2001-02-30", "2001-09-09T25:00:00Z"})
        CHECK_FALSE(from_iso(text));
}
