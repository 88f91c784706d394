#include "headless_window.hpp"
#include "support/catch.hpp"

using namespace platewright;
using screen::Key;
using test::HeadlessWindow;
using test::sample_plate;
using test::sample_snapshot;
namespace command = bench::command;

TEST_CASE("single keys do all that is needed with the hands full") {
    HeadlessWindow window(sample_snapshot(sample_plate(2)));
    window.strike(Key::backspace);
    CHECK(window.last_sent<command::UndoTap>());
    window.strike(U' ');
    REQUIRE(window.last_sent<command::StrikeAt>());
    CHECK(window.last_sent<command::StrikeAt>()->spot == taps::Spot::centre);
    window.strike(U'n');
    CHECK(window.last_sent<command::BeginSession>()->session.stage == modes::Stage::rough);
    window.strike(U'L'); // either case
    CHECK_FALSE(window.last_sent<command::Listen>()->on);
    for (const auto& [key, place] : {std::pair{Key::f2, screen::Place::drift},
                                     {Key::f3, screen::Place::beside},
                                     {Key::f4, screen::Place::plates},
                                     {Key::f5, screen::Place::sound},
                                     {Key::f1, screen::Place::bench}}) {
        window.strike(key);
        CHECK(window.desk().place() == place);
    }
}

TEST_CASE("after the last spot comes the spot that was not given") {
    HeadlessWindow window(sample_snapshot(sample_plate(2)));
    window.now().striking_at = taps::k_spots.back();
    window.strike(U' ');
    CHECK(window.last_sent<command::StrikeAt>()->spot == taps::Spot::unknown);
}

TEST_CASE("a mode is named by key, another by arrow, and a name is taken away by nought") {
    auto plate = sample_plate(2);
    HeadlessWindow window(sample_snapshot(plate));
    window.strike(U'm');
    CHECK(window.reads_within("which mode is it?"));
    window.strike(Key::right);
    window.strike(U'3');
    auto named = window.last_sent<command::NameMode>();
    REQUIRE(named);
    CHECK(named->frequency_hz == plate->naming.modes[1].mode.frequency_hz);
    CHECK(named->number == 3);
    window.strike(U'0');
    CHECK_FALSE(window.last_sent<command::NameMode>()->number);
    window.strike(Key::escape);
    CHECK_FALSE(window.reads_within("which mode is it?"));
    window.sent.clear();
    window.strike(U'5');
    CHECK_FALSE(window.last_sent<command::NameMode>());
}

TEST_CASE("what is typed before the session just begun is there goes into its mass") {
    HeadlessWindow window(sample_snapshot(sample_plate(2)));
    window.executes = false; // the bench is at something else
    window.strike(U'n');
    REQUIRE(window.last_sent<command::BeginSession>());
    for (const char32_t letter : std::u32string_view(U"e101,4"))
        window.strike(letter);
    window.strike(Key::enter);
    CHECK_FALSE(window.last_sent<command::SaveSession>());
    window.executes = true;
    window.pictures(8);
    REQUIRE(window.last_sent<command::SaveSession>());
    CHECK(window.last_sent<command::SaveSession>()->session.mass_g == Approx(101.4));

    REQUIRE_FALSE(ImGui::GetIO().WantTextInput);
    window.sent.clear(); // all of it between two pictures, as on a slow machine
    for (const char32_t letter : std::u32string_view(U"ne98,6"))
        window.press_key(letter);
    window.strike(Key::enter);
    window.pictures(8);
    REQUIRE(window.last_sent<command::SaveSession>());
    CHECK(window.last_sent<command::SaveSession>()->session.mass_g == Approx(98.6));

    window.sent.clear(); // left with Escape nothing is written
    window.executes = false;
    window.strike(U'n');
    window.strike(U'e');
    window.strike(U'7');
    window.strike(Key::escape);
    window.executes = true;
    window.pictures(8);
    CHECK_FALSE(window.last_sent<command::SaveSession>());
    CHECK_FALSE(window.reads("[mass, g]"));
}

TEST_CASE("mass is typed with a decimal comma, and half a number is a complaint, not a loss") {
    HeadlessWindow window(sample_snapshot(sample_plate(2)));
    window.strike(U'e');
    window.write("101,4");
    window.press("Save");
    REQUIRE(window.last_sent<command::SaveSession>());
    CHECK(window.last_sent<command::SaveSession>()->session.mass_g == Approx(101.4));
    CHECK(window.last_sent<command::SaveSession>()->session.id == 2);

    window.sent.clear();
    window.strike(U'e');
    window.write("10x");
    window.press("Save");
    CHECK(window.sent.empty());
    CHECK(window.reads_within("The mass is a number from 1 to 20000 g"));
    CHECK(window.reads("The session"));
    window.strike(Key::escape);
    CHECK_FALSE(window.reads("The session"));
}
