// The sheets on which the plate is measured: its thickness and its shape.

#include "base/clock.hpp"
#include "carved_plate.hpp"
#include "headless_window.hpp"
#include "support/catch.hpp"

using namespace platewright;
using screen::Key;
using test::Carved;
using test::carved;
using test::HeadlessWindow;
using test::k_on_plate;
namespace command = bench::command;

TEST_CASE("the map sheet says what the map says, and where the next reading helps most") {
    HeadlessWindow window(carved().snapshot());
    window.strike(Key::f8);
    CHECK(window.reads("Mass by the map"));
    CHECK(window.reads("Weighed"));
    CHECK(window.reads("read here next"));
    CHECK(window.reads("Taken off"));
    CHECK(window.reads_within("the surface is unsure by up to")); // another one changes no figure
    CHECK_FALSE(window.last_sent<command::StudyPlate>());         // it is of this plate as it is
}

TEST_CASE("on a wall of a window a plate's letters grow with its drawing, and never under what is "
          "asked") {
    const auto letters = [](float width, float height, double text_size) {
        HeadlessWindow window(carved().snapshot(), width, height, text_size);
        window.strike(Key::f8);
        const screen::Seen* words = window.find("read here next");
        REQUIRE(words != nullptr);
        return words->height / window.scale();
    };
    const double usual = letters(1280, 800, 1.0);
    CHECK(letters(1920, 1080, 1.0) == Approx(usual).epsilon(0.05));
    CHECK(letters(3840, 2160, 1.0) > 1.3 * usual);
    CHECK(letters(3840, 2160, 2.0) == Approx(usual).epsilon(0.05));
}

TEST_CASE(
    "a reading is clicked on the plate, typed with a decimal comma, and kept with the others") {
    HeadlessWindow window(carved().snapshot());
    window.strike(Key::f8);
    const auto before = test::story().history.sessions[2].thickness.readings.size();
    window.press(k_on_plate);
    CHECK(window.reads_within("The cross: x"));
    window.write("3,27");
    window.press("Add");
    CHECK(window.reads("3.27"));
    window.press("Keep these readings");
    const auto sent = window.last_sent<command::SetThickness>();
    REQUIRE(sent);
    CHECK(sent->session == 3);
    // a click near a reading corrects that one, elsewhere it adds one
    CHECK(sent->readings.size() >= before);
    CHECK(sent->readings.back().thickness_mm == 3.27);
}

TEST_CASE("a reading that can't be is refused where it was typed, and nothing is sent") {
    HeadlessWindow window(carved().snapshot());
    window.strike(Key::f8);
    window.press(k_on_plate);
    window.write("thick");
    window.press("Add");
    CHECK(window.reads_within("is no thickness in mm"));
    CHECK_FALSE(window.reads("Keep these readings"));
    CHECK_FALSE(window.last_sent<command::SetThickness>());
}

TEST_CASE("the shape is entered as measured, and what can't be is said") {
    HeadlessWindow window(carved().snapshot());
    window.strike(Key::f8);
    window.press("Shape");
    window.press("Keep this shape");
    const auto kept = window.last_sent<command::SetForm>();
    REQUIRE(kept);
    CHECK(kept->form.size.length_mm == 355.0);
    CHECK(kept->form.species == "red_maple");
    window.press("[Waist]");
    window.write("x");
    window.press("Keep this shape");
    CHECK(window.reads_within("Waist is a number from 20 to 1400 mm"));
}

TEST_CASE("an older map says of when it is, and counts no readings for the session on the bench") {
    Carved later = carved();
    later.plate = std::make_shared<bench::PlateView>(*later.plate);
    ledger::SessionHistory today;
    today.session.id = 99;
    today.session.plate = 7;
    later.plate->history.sessions.push_back(today);
    later.plate->session = 99;
    HeadlessWindow window(carved().snapshot());
    window.strike(Key::f8);
    CHECK_FALSE(window.reads_within("This is the map of"));
    window.show(later.snapshot());
    CHECK(window.reads_within("This is the map of " +
                              base::local_date(test::story().history.sessions[2].session.begun)));
    CHECK(window.reads("Readings of this session: 0"));
}
