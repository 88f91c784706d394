// The sheet of the next pass.

#include "base/text.hpp"
#include "carved_plate.hpp"
#include "headless_window.hpp"
#include "screen/draw/plate_pictures.hpp"
#include "support/catch.hpp"

using namespace platewright;
using screen::Key;
using test::Carved;
using test::carved;
using test::HeadlessWindow;
namespace command = bench::command;

TEST_CASE("a plan is asked for in Hz and shown with ranges, cautions and what hindsight says") {
    HeadlessWindow window(carved().snapshot(), 1280, 2400);
    window.strike(Key::f8);
    window.press("Next pass");
    CHECK(window.reads("after the next pass"));
    CHECK(window.reads("map of"));
    CHECK(window.reads("as tapped on"));
    CHECK(window.reads_within("can't be put back"));
    CHECK(window.reads_within("Wood dust"));
    window.press("Plan");
    const auto asked = window.last_sent<command::MakePlan>();
    REQUIRE(asked);
    CHECK(asked->request.wishes.empty());
    CHECK(asked->request.limits.least_mm == 2.0);
    CHECK(asked->reference == 0);
}

TEST_CASE("the pass that the bench speaks of stands under Next pass, until another is planned") {
    Carved aimed = carved();
    aimed.work = std::make_shared<bench::PlateWork>(*aimed.work);
    aimed.work->next =
        std::make_shared<trends::NextPass>(trends::NextPass{aimed.work->plan, {}, {}});
    aimed.work->plan.reset();
    HeadlessWindow window(aimed.snapshot(), 1280, 2400);
    window.strike(Key::f8);
    window.press("Next pass");
    CHECK(window.reads("The plan"));
    CHECK(window.reads("seen from the inside, bass side left"));
}

TEST_CASE("a plan's picture marks its deepest places, none close beside another") {
    const auto& study = *carved().work->study;
    const auto& plan = carved().work->plan->plan;
    const auto picture = screen::plan_picture(study, plan.removal_mm, true);
    REQUIRE_FALSE(picture.marks.empty());
    CHECK(picture.marks.front().words == base::fixed(plan.deepest_mm, 2));
    for (const auto& one : picture.marks) {
        for (const auto& other : picture.marks) {
            CHECK((&one == &other ||
                   std::hypot(one.at.x - other.at.x, one.at.y - other.at.y) >= 40.0));
        }
    }
    CHECK(screen::plan_picture(study, 0.0 * plan.removal_mm, true).marks.empty());
}
