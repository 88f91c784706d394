// The sheets of how the plate moves and how it answers to strokes.

#include "carved_plate.hpp"
#include "headless_window.hpp"
#include "support/catch.hpp"

using namespace platewright;
using screen::Key;
using test::carved;
using test::HeadlessWindow;
using test::k_on_plate;

TEST_CASE("modes move, and can stand still, and strokes are read off under the pointer") {
    HeadlessWindow window(carved().snapshot());
    window.strike(Key::f8);
    window.press("Motion");
    CHECK(window.reads("mode 5 (ring)"));
    window.press("Stand still");
    CHECK(window.reads("Move"));
    window.press("Strokes");
    window.point_at(k_on_plate);
    CHECK(window.reads_within("A stroke at x"));
    CHECK(window.reads("thickness there"));
}
