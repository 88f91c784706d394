#include "base/clock.hpp"
#include "support/catch.hpp"

#include <cstdlib>
#include <ctime>

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

namespace {

/// The clock on the wall of another place, while it lives.
class Zone {
public:
    explicit Zone(const char* name) {
        setenv("TZ", name, 1);
        tzset();
    }
    ~Zone() {
        unsetenv("TZ");
        tzset();
    }
    Zone(const Zone&) = delete;
    Zone& operator=(const Zone&) = delete;
};

// POSIX rules, so that no table of zones has to be there: five hours west of Greenwich with summer
// time, thirteen hours east without.
constexpr const char* k_west = "EST5EDT,M3.2.0,M11.1.0";
constexpr const char* k_east = "NZDT-13";

} // namespace

TEST_CASE("a day that is typed is that day on the wall, east and west of Greenwich") {
    for (const char* zone : {k_west, k_east, "UTC0"}) {
        const Zone here{zone};
        for (const char* typed :
             {"2026-03-14", "14.3.2026", "14.03.2026", "14. 3. 2026", " 2026-03-14 "}) {
            const auto moment = from_typed(typed);
            REQUIRE(moment);
            CHECK(local_date(*moment) == "2026-03-14");
        }
        CHECK(local_date_time(*from_typed("12.10.2026")) == "2026-10-12 12:00");
        CHECK(local_date_time(*from_typed("2026-03-14 09:26")) == "2026-03-14 09:26");
        CHECK(local_date_time(*from_typed("2026-03-14T09:26:53")) == "2026-03-14 09:26");
    }
}

TEST_CASE("the offset that stands after a time is honoured") {
    // ISO 8601 (RFC 3339, 5.8): 19:20 at +05:00 is 14:20 in UTC.
    const Zone here{k_west};
    CHECK(to_iso(*from_typed("2026-03-14T19:20:30+05:00")) == "2026-03-14T14:20:30.000Z");
    CHECK(to_iso(*from_iso("2026-03-14T19:20:30.500+05:00")) == "2026-03-14T14:20:30.500Z");
    CHECK(to_iso(*from_typed("2026-03-14 19:20 -0330")) == "2026-03-14T22:50:00.000Z");
    CHECK(to_iso(*from_typed("2026-03-14T19:20Z")) == "2026-03-14T19:20:00.000Z");
}

TEST_CASE("what only begins like a date is refused") {
    for (const char* text : {"2026-03-17T09x26y00zzz", "2026-03-17T09:26zzz", "2026-03-17Z",
                             "2026-03-17 ", "2026-03-17T", "2026-3-17", "2026-03-17T9:26",
                             "2026-03-17T09:26:00+5", "2026-03-17T09:26:00+25:00"}) {
        const std::string said(text);
        INFO(said);
        CHECK(from_iso(text).has_value() == (said == "2026-03-17 "));
    }
    for (const char* text : {"", "14.3.26", "31.2.2026", "3/14/2026", "14.13.2026", "2026.03.14",
                             "14.3.2026zz", "yesterday", "2026-03-17T09x26y00zzz"})
        CHECK_FALSE(from_typed(text));
}

TEST_CASE("an axis of days agrees with the local date") {
    const Zone here{k_west};
    // 23:30 in the evening there is past midnight in UTC.
    const Timestamp evening = *from_typed("2026-03-03 23:30");
    CHECK(to_iso(evening) == "2026-03-04T04:30:00.000Z");
    CHECK(local_day(evening) ==
          Approx(20515.0 + 23.5 / 24.0)
              .epsilon(1e-9)); // 2026-03-03: 56 years of 365 days, 14 leap days, 61 days
}
