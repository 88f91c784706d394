#include "plot/axis.hpp"
#include "support/catch.hpp"

using namespace platewright::plot;

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
