// What was entered in the wrong place is put right in the window's own forms.
#include "base/clock.hpp"
#include "carved_plate.hpp"
#include "headless_window.hpp"
#include "support/catch.hpp"

#include <algorithm>

using namespace platewright;
using screen::Key;
using test::HeadlessWindow;
using test::sample_plate;
using test::sample_snapshot;
namespace command = bench::command;

TEST_CASE("a tap looked into is put right: where it was struck, and whether it counts") {
    HeadlessWindow window(sample_snapshot(test::full_plate()));
    window.strike(Key::f7);
    window.press("[struck at]");
    window.press("lower end");
    REQUIRE(window.last_sent<command::SetSpot>());
    CHECK(window.last_sent<command::SetSpot>()->tap == 801);
    CHECK(window.last_sent<command::SetSpot>()->spot == taps::Spot::lower_end);
    window.press("Take this tap out");
    REQUIRE(window.last_sent<command::Bin>());
    CHECK(window.last_sent<command::Bin>()->table == "tap");
    CHECK(window.last_sent<command::Bin>()->id == 801);
    window.strike(U'r');
    REQUIRE(window.last_sent<command::Unbin>());
    CHECK(window.last_sent<command::Unbin>()->id == 801);
}

TEST_CASE("a session is given another day and another plate in its form") {
    HeadlessWindow window(sample_snapshot(sample_plate(3)), 1280, 1600);
    window.strike(Key::f4);
    const auto newest = std::ranges::find_if(
        window.seen, [](const auto& seen) { return seen.words.starts_with("3:  "); });
    REQUIRE(newest != window.seen.end());
    window.press(newest->words);
    window.press("Correct");
    window.press("[humidity, %]");
    window.move_focus(ImGuiKey_Tab);
    window.move_focus(ImGuiKey_Tab); // past the notes; what stands in a field is written over then
    window.write("14.3.2026");
    window.press("[belongs to]");
    window.press("Larkfield 3, top");
    window.press("Save");
    REQUIRE(window.last_sent<command::SetBegun>());
    CHECK(window.last_sent<command::SetBegun>()->session == 3);
    CHECK(base::local_date(window.last_sent<command::SetBegun>()->begun) == "2026-03-14");
    REQUIRE(window.last_sent<command::MoveSession>());
    CHECK(window.last_sent<command::MoveSession>()->session == 3);
    CHECK(window.last_sent<command::MoveSession>()->plate == 2);
}

TEST_CASE("a plate is given to another instrument in its form") {
    HeadlessWindow window(sample_snapshot(sample_plate(3)), 1280, 1600);
    window.strike(Key::f4);
    window.press("Change"); // the plate's own
    window.press("[belongs to]");
    window.press("Larkfield 3");
    window.press("Save");
    REQUIRE(window.last_sent<command::MovePlate>());
    CHECK(window.last_sent<command::MovePlate>()->plate == 1);
    CHECK(window.last_sent<command::MovePlate>()->instrument == 2);
}

TEST_CASE("an instrument may be a double bass, and tell its body's length") {
    HeadlessWindow window(sample_snapshot(nullptr));
    window.strike(Key::f4);
    window.strike(U'i');
    window.press("[label]");
    window.write("Larkfield 8");
    window.press("[kind]");
    window.press("double bass");
    window.press("[length of the body, mm; empty: full size]");
    window.write("1060 mm");
    window.press("Save");
    REQUIRE(window.last_sent<command::SaveInstrument>());
    const auto saved = window.last_sent<command::SaveInstrument>()->instrument;
    CHECK(saved.kind == modes::InstrumentKind::double_bass);
    CHECK(saved.body_length_mm == 1060.0);
}

TEST_CASE("all readings of a map are taken out in one, and only where that is kept") {
    HeadlessWindow window(test::carved().snapshot(), 1280, 2400);
    window.strike(Key::f8);
    window.press("Take all readings out");
    CHECK_FALSE(window.last_sent<command::TakeOutReadings>());
    window.press("Keep these readings");
    REQUIRE(window.last_sent<command::TakeOutReadings>());
    const std::vector<std::size_t> all = window.last_sent<command::TakeOutReadings>()->which;
    CHECK(all.size() > 3);
    CHECK(all.back() == all.size() - 1);
}
