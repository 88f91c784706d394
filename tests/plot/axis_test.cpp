#include "plot/axis.hpp"
#include "support/catch.hpp"

#include <cmath>
#include <limits>

using namespace platewright::plot;

namespace {
std::vector<std::string> words(const Axis& axis, int most) {
    std::vector<std::string> out;
    for (const Tick& tick : ticks(axis, most)) {
        out.push_back(tick.words);
    }
    return out;
}
using Words = std::vector<std::string>;
} // namespace

TEST_CASE("linear ticks are round, ascending and no more than asked for") {
    CHECK(words({.low = 0, .high = 100}, 6) == Words{"0", "20", "40", "60", "80", "100"});
    CHECK(words({.low = 0.12, .high = 0.19}, 5) == Words{"0.12", "0.14", "0.16", "0.18"});
    CHECK(words({.low = -12, .high = 3}, 5) == Words{"\u221210", "\u22125", "0"});
    for (int most = 2; most < 15; ++most) {
        const auto found = ticks({.low = 97.3, .high = 131.9}, most);
        CHECK(static_cast<int>(found.size()) <= most);
        CHECK_FALSE(found.empty());
        for (const Tick& tick : found) {
            CHECK((tick.at >= 97.3 && tick.at <= 131.9));
        }
    }
}

TEST_CASE("an axis that runs backwards has the same ticks as one that runs forwards") {
    CHECK(words({.low = 130, .high = 100}, 4) == words({.low = 100, .high = 130}, 4));
}

TEST_CASE("logarithmic ticks are multiples of powers of ten, thinned to fit") {
    const Axis axis{.low = 40, .high = 2500, .spacing = Spacing::logarithmic};
    CHECK(words(axis, 6) == Words{"50", "100", "200", "500", "1000", "2000"});
    CHECK(words(axis, 3) == Words{"100", "1000"});
    CHECK(words(axis, 10) == Words{"50", "70", "100", "200", "300", "500", "700", "1000", "2000"});
}

TEST_CASE("a logarithmic axis over less than an octave is ticked linearly") {
    const Axis axis{.low = 330, .high = 360, .spacing = Spacing::logarithmic};
    CHECK(words(axis, 5) == Words{"330", "340", "350", "360"});
}

TEST_CASE("days read as dates") {
    // 2024-02-27 is day 19780 of the Unix epoch: 54 years × 365 + 13 leap days + 57.
    CHECK(words({.low = 19780, .high = 19784, .reading = Reading::day}, 5) ==
          Words{"2024-02-27", "2024-02-28", "2024-02-29", "2024-03-01", "2024-03-02"});
    const auto year = words({.low = 19780, .high = 20100, .reading = Reading::day}, 5);
    CHECK(year == Words{"2024-04-01", "2024-07-01", "2024-10-01", "2025-01-01"});
}

TEST_CASE("named ticks bear the names, thinned to fit") {
    const Axis axis{
        .low = -0.4, .high = 3.6, .reading = Reading::named, .names = {"a", "b", "c", "d"}};
    CHECK(words(axis, 8) == Words{"a", "b", "c", "d"});
    CHECK(words(axis, 2) == Words{"a", "c"});
}

TEST_CASE("a place read back gives the value it came from") {
    for (const Spacing spacing : {Spacing::linear, Spacing::logarithmic}) {
        const Scale scale({.low = 40, .high = 2500, .spacing = spacing}, 10, 810);
        CHECK(scale.place(40) == Approx(10));
        CHECK(scale.place(2500) == Approx(810));
        for (const double hz : {55.0, 171.3, 349.0, 2400.0}) {
            CHECK(scale.value(scale.place(hz)) == Approx(hz));
        }
    }
}

TEST_CASE("an octave takes the same room everywhere on a logarithmic axis") {
    const Scale scale({.low = 50, .high = 1600, .spacing = Spacing::logarithmic}, 0, 500);
    CHECK(scale.place(100) - scale.place(50) == Approx(100));
    CHECK(scale.place(800) - scale.place(400) == Approx(100));
}

TEST_CASE("an axis without extent or below zero on a logarithmic one is refused") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_AS(Scale({.low = 1, .high = 1}, 0, 1), std::invalid_argument);
    CHECK_THROWS_AS(Scale({.low = nan, .high = 1}, 0, 1), std::invalid_argument);
    CHECK_THROWS_AS(Scale({.low = 0, .high = 9, .spacing = Spacing::logarithmic}, 0, 1),
                    std::invalid_argument);
}

TEST_CASE("widening leaves a usable axis whatever came in") {
    const double inf = std::numeric_limits<double>::infinity();
    for (const Spacing spacing : {Spacing::linear, Spacing::logarithmic}) {
        for (const auto& [low, high] : {std::pair{100.0, 100.0}, {inf, -inf}, {100.0, 130.0}}) {
            Axis axis{.low = low, .high = high, .spacing = spacing};
            widen(axis);
            CHECK(axis.low < axis.high);
            CHECK_NOTHROW(Scale(axis, 0, 1));
        }
    }
}

TEST_CASE("zooming keeps the value under the pointer at its place") {
    for (const Axis& all :
         {Axis{.title = {}, .low = 60, .high = 1000},
          Axis{.title = {}, .low = 60, .high = 1000, .spacing = Spacing::logarithmic},
          Axis{.title = {}, .low = 120, .high = 95}}) { // mass runs back
        const double about = Scale(all, 0, 1).value(0.37);
        const Axis closer = zoomed(all, all, about, 0.5);
        CHECK(Scale(closer, 0, 1).place(about) == Approx(0.37));
        const Scale places(all, 0, 1);
        CHECK(places.place(closer.high) - places.place(closer.low) == Approx(0.5));
        const Axis back = zoomed(all, closer, about, 2.0);
        CHECK(back.low == Approx(all.low));
        CHECK(back.high == Approx(all.high));
    }
}

TEST_CASE("nothing beyond the ends of the chart is ever shown") {
    const Axis all{.title = {}, .low = 60, .high = 1000};
    const Axis wider = zoomed(all, all, 300, 4.0);
    CHECK(wider.low == all.low);
    CHECK(wider.high == all.high);
    Axis seen = zoomed(all, all, 500, 0.25);
    for (int i = 0; i < 40; ++i) {
        seen = moved(all, seen, 0.3);
    }
    CHECK(seen.high == Approx(1000));
    CHECK(seen.high - seen.low == Approx(0.25 * 940));
    for (int i = 0; i < 90; ++i) {
        seen = zoomed(all, seen, 990, 0.5);
    }
    CHECK(seen.high - seen.low == Approx(0.94)); // a thousandth, and no closer
}
