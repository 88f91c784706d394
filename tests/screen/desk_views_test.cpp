#include "base/text.hpp"
#include "headless_window.hpp"
#include "screen/settings/preferences_file.hpp"
#include "screen/settings/status_line.hpp"
#include "support/catch.hpp"

#include <cstdlib>
#include <filesystem>
#include <unistd.h>

using namespace platewright;
using screen::Key;
using test::HeadlessWindow;
using test::sample_plate;
using test::sample_snapshot;
namespace command = bench::command;

using test::full_plate;

TEST_CASE("an empty ledger leads to the first instrument") {
    HeadlessWindow window(sample_snapshot(nullptr));
    window.strike(Key::f4);
    CHECK(window.reads("An empty ledger"));
    window.strike(U'i');
    CHECK(window.reads("A new instrument"));
    window.press("Save");
    CHECK(window.reads_within("Give the instrument a label"));
    CHECK_FALSE(window.last_sent<command::SaveInstrument>());
    window.press("[label]");
    window.write("Larkfield 8");
    window.press("Save");
    REQUIRE(window.last_sent<command::SaveInstrument>());
    CHECK(window.last_sent<command::SaveInstrument>()->instrument.label == "Larkfield 8");
    CHECK(window.last_sent<command::SaveInstrument>()->instrument.id == 0);
}

TEST_CASE("a plate is entered with part, wood and density") {
    HeadlessWindow window(sample_snapshot(sample_plate(1)));
    window.strike(Key::f4);
    window.strike(U'p');
    CHECK(window.reads("A new plate"));
    window.press("body");
    window.press({0.5 * (window.find("body")->where.left + window.find("body")->where.right) -
                      112.0 * window.scale(),
                  window.find("body")->where.top - 60.0}); // the drawing before it
    window.press("[density, kg/m\u00b3]");
    window.write("612,5");
    window.press("Save");
    const auto saved = window.last_sent<command::SavePlate>();
    REQUIRE(saved);
    CHECK(saved->plate.instrument == 1);
    CHECK(saved->plate.part == modes::Part::back);
    CHECK(saved->plate.label == "back"); // none was typed
    CHECK(saved->plate.density_kg_m3 == Approx(612.5));
}

TEST_CASE("a press on a plate puts it on the bench") {
    HeadlessWindow window(sample_snapshot(sample_plate(2)));
    window.strike(Key::f4);
    window.press("top");
    REQUIRE(window.last_sent<command::OpenPlate>());
    CHECK(window.last_sent<command::OpenPlate>()->plate == 2);
}

TEST_CASE("looking for words leaves the instruments that have them all") {
    HeadlessWindow window(sample_snapshot(sample_plate(2)));
    window.strike(Key::f4);
    window.press("[look for: label, kind, wood, notes]");
    window.write("SPRUCE lark");
    CHECK(window.reads("Larkfield 3, violin"));
    CHECK_FALSE(window.reads("Larkfield 7, violin"));
}

TEST_CASE("a session is made a reference, put away and put back") {
    HeadlessWindow window(sample_snapshot(sample_plate(3)));
    window.strike(Key::f4);
    const auto session = std::find_if(window.seen.begin(), window.seen.end(),
                                      [](const auto& s) { return s.words.starts_with("2:  "); });
    REQUIRE(session != window.seen.end());
    window.press(session->words);
    window.press("Make it a reference");
    REQUIRE(window.last_sent<command::AddReference>());
    CHECK(window.last_sent<command::AddReference>()->session == 2);
    CHECK(window.last_sent<command::AddReference>()->label == "Larkfield 7, back, session 2");
    // The lower of the two: the upper one puts the plate away.
    const screen::Seen* lower = nullptr;
    for (const auto& s : window.seen) {
        if (s.words == "Put away" && (lower == nullptr || s.where.top > lower->where.top)) {
            lower = &s;
        }
    }
    REQUIRE(lower);
    window.press(plot::Point{lower->where.left + 5, lower->where.top + 5});
    REQUIRE(window.last_sent<command::Bin>());
    CHECK(window.last_sent<command::Bin>()->table == "session");
    CHECK(window.last_sent<command::Bin>()->id == 2);
    window.press("Put session 2 back");
    CHECK(window.last_sent<command::Unbin>()->id == 2);
}

TEST_CASE("the drift changes its axes by keys, and a press on a session opens it") {
    HeadlessWindow window(sample_snapshot(full_plate()));
    window.strike(Key::f2);
    CHECK(window.reads("mass, g: wood comes off towards the right"));
    window.strike(U'c');
    CHECK(window.reads("cents from the first session"));
    window.strike(U'a');
    CHECK(window.reads("day"));
    window.press("by session");
    CHECK(window.reads("session"));
    const screen::Seen* third = window.find("3");
    REQUIRE(third);
    window.press({0.5 * (third->where.left + third->where.right), third->where.top - 120.0});
    CHECK(window.desk().place() == screen::Place::session);
    CHECK(window.reads_within("session 3 of 9"));
    REQUIRE(window.last_sent<command::StudyTap>()); // its first good tap is looked into
    window.press("Onto the bench");
    CHECK(window.last_sent<command::OpenSession>()->session == 3);
}

TEST_CASE("a forecast stands beside the caution that wood can't be put back") {
    auto plate = full_plate();
    for (trends::TrackDrift& track : plate->drift.tracks) {
        track.forecast.reset();
    }
    plate->drift.tracks[2].forecast = trends::Forecast{2.4, 0.2, 9, 101.2, 356.4};
    plate->drift.told_from_g = 101.2;
    plate->drift.tracks[2].forecast->step_on = trends::Interval{354.0, 352.1, 355.9};
    HeadlessWindow window(sample_snapshot(plate));
    window.strike(Key::f2);
    CHECK(window.reads_within("1 g less than 101.2 g: 354.0 (352.1 to 355.9)"));
    CHECK(window.reads_within("Wood taken off can't be put back."));
    CHECK(window.reads_within("Ranges of 95 %"));
}

TEST_CASE("a plate without weighed sessions is told when a forecast comes, a closed body is not") {
    for (const modes::Part part : {modes::Part::back, modes::Part::body}) {
        auto plate = full_plate();
        plate->history.plate.part = part;
        for (trends::TrackDrift& track : plate->drift.tracks) {
            track.forecast.reset();
        }
        HeadlessWindow window(sample_snapshot(plate));
        window.strike(Key::f2);
        CHECK(window.reads_within("appears after three") == (part == modes::Part::back));
    }
}

TEST_CASE("beside a reference each mode has its difference, and pressing again takes it away") {
    HeadlessWindow window(sample_snapshot(full_plate()));
    window.strike(Key::f3);
    CHECK(window.reads("Compared with Larkfield 3, back: the one that sang"));
    CHECK(window.reads_within("Mode 5 to mode 2: 2.082 here, 2.101 there."));
    CHECK(window.reads("yes"));
    window.press("Larkfield 3, back: the one that sang");
    CHECK(window.last_sent<command::CompareWith>()->session == 0);
    window.press("session 8");
    CHECK(window.last_sent<command::CompareWith>()->session == 8);
}

TEST_CASE("an input, its rate and its channel are chosen") {
    HeadlessWindow window(sample_snapshot(nullptr));
    window.strike(Key::f5);
    window.press("ALSA: line in");
    CHECK(window.last_sent<command::ChooseInput>()->choice.name == "ALSA: line in");
    window.press("[sample rate]");
    window.press("96.0 kHz");
    CHECK(window.last_sent<command::ChooseInput>()->choice.sample_rate_hz == 96000.0);
    window.press("[channel]");
    window.press("2");
    CHECK(window.last_sent<command::ChooseInput>()->choice.channel == 1);
    window.press("[taps are looked for from]");
    window.press("15 Hz");
    REQUIRE(window.last_sent<command::ChooseBand>());
    CHECK(window.last_sent<command::ChooseBand>()->band.low_hz == 15.0);
    window.strike(U'r');
    CHECK(window.last_sent<command::RefreshInputs>());
}

TEST_CASE("without any input the sound view says what to do") {
    auto now = sample_snapshot(nullptr);
    now.inputs.clear();
    now.input.state = bench::InputState::missing;
    now.input.trouble = "There is no microphone. Plug one in.";
    HeadlessWindow window(now);
    window.strike(Key::f5);
    CHECK(window.reads_within("Plug a microphone in, then look again"));
    CHECK(window.reads_within("There is no microphone. Plug one in."));
}

TEST_CASE("the meter's steps are 3 dB from \u221272 to 0 dBFS") {
    CHECK(screen::meter_steps(-160.0) == 0);
    CHECK(screen::meter_steps(-72.0) == 0);
    CHECK(screen::meter_steps(-69.0) == 1);
    CHECK(screen::meter_steps(-0.1) == 23);
    CHECK(screen::meter_steps(0.0) == 24);
    CHECK(screen::meter_steps(6.0) == 24);
}

TEST_CASE("all that the maker set is remembered") {
    const auto folder = std::filesystem::temp_directory_path() /
                        ("platewright_wishes_" + std::to_string(::getpid()));
    ::setenv("XDG_CONFIG_HOME", folder.c_str(), 1);
    CHECK(screen::read_preferences() == screen::Preferences{});
    const screen::Preferences all{.dark = true,
                                  .text_size = 1.25,
                                  .language = wording::Language::italian,
                                  .mark = wording::DecimalMark::point,
                                  .reference_pitch_hz = 442.5,
                                  .note_names = false,
                                  .logarithmic = true,
                                  .answers_aloud = true,
                                  .taps_a_spot = 5,
                                  .window = {-1600, 20, 1500, 900, true}};
    screen::write_preferences(all);
    CHECK(screen::read_preferences() == all);
    std::filesystem::remove_all(folder);
    ::unsetenv("XDG_CONFIG_HOME");
}

TEST_CASE("with large letters the bench has the side's buttons behind one key, and the plates take "
          "turns with their list") {
    test::HeadlessWindow window(test::sample_snapshot(test::full_plate()), 1280, 800, 2.0);
    window.strike(screen::Key::f1);
    const auto counted = std::find_if(window.seen.begin(), window.seen.end(),
                                      [](const auto& s) { return s.words.ends_with(" more"); });
    REQUIRE(counted != window.seen.end()); // what has no room is counted, and stands behind it
    CHECK_FALSE(window.reads("New session"));
    window.strike(U'x');
    window.press("New session");
    CHECK(window.last_sent<bench::command::BeginSession>());
    window.press("Figures");
    CHECK_FALSE(window.reads("New session"));
    window.strike(screen::Key::page_down); // no view scrolls here: a foot switch
    CHECK(window.last_sent<bench::command::StrikeAt>());

    window.strike(screen::Key::f4);
    CHECK_FALSE(window.reads("All plates"));
    window.press("back");
    CHECK(window.last_sent<bench::command::OpenPlate>());
    CHECK(window.reads("All plates"));
    CHECK_FALSE(window.reads("New instrument"));
    window.strike(screen::Key::escape);
    CHECK(window.reads("New instrument"));
}

TEST_CASE("over a chart that scrolls with its view the wheel scrolls the view") {
    test::HeadlessWindow window(test::sample_snapshot(test::full_plate()), 1280, 800, 2.0);
    window.strike(screen::Key::f2);
    const screen::Seen* title = window.find("frequency, Hz");
    REQUIRE(title != nullptr);
    const double before = title->where.top;
    window.point_at({700.0, 650.0});
    window.wheel(-1.0F);
    window.pictures(3);
    title = window.find("frequency, Hz");
    CHECK((title == nullptr || title->where.top < before - 10.0));
}

TEST_CASE("the scale follows the window and steps so that letters are seldom cut anew") {
    CHECK(screen::scale_for(1280, 800, 1.0) == 1.0);
    CHECK(screen::scale_for(1920, 1080, 1.0) == Approx(1.3125));
    CHECK(screen::scale_for(3840, 2160, 1.0) == Approx(1.3125)); // the room shows more instead
    CHECK(screen::scale_for(3840, 2160, 1.0, 2.0) == Approx(2.6875));
    CHECK(screen::scale_for(3840, 2160, 2.0) == Approx(2.6875));
    CHECK(screen::scale_for(1280, 800, 1.125) == 1.125);
    CHECK(screen::scale_for(1280, 800, 2.0) == 2.0); // whatever the views have room for
    CHECK(screen::scale_for(10, 10, 1.0) == 0.5);
}

TEST_CASE("one air is switched on at the drift, and said wherever it changes figures") {
    auto now = test::sample_snapshot(test::full_plate());
    now.air = {20.0, 50.0};
    test::HeadlessWindow window(now, 1280, 1400); // the settings' last fields without scrolling
    window.strike(screen::Key::f2);
    CHECK_FALSE(window.reads_within("set over, not measured"));
    window.strike(U'k');
    REQUIRE(window.last_sent<bench::command::SetAir>());
    CHECK(window.last_sent<bench::command::SetAir>()->on);
    CHECK(window.last_sent<bench::command::SetAir>()->air.humidity_pct == 50.0);
    auto plate = test::full_plate();
    plate->history.sessions[2].session.humidity_pct.reset();
    plate->in_air =
        std::make_shared<trends::HistoryInAir>(trends::in_air(plate->history, {20.0, 65.0}));
    window.now().plate = plate;
    window.now().in_air = true;
    window.now().air = {20.0, 65.0};
    window.pictures(2);
    CHECK(window.reads_within("As if at 20.0 °C, 65 % humidity: set over, not measured"));
    CHECK(window.reads_within("1 session without its air stays as measured."));
    window.strike(screen::Key::f1);
    CHECK(window.reads("changes as if at 20.0 °C, 65 % humidity"));
    window.strike(screen::Key::f6);
    window.press("[humidity, %]");
    ImGui::GetIO().AddInputCharacter('4');
    window.pictures(3);
    window.press("Keep this air");
    CHECK(window.last_sent<bench::command::SetAir>()->air.humidity_pct != 65.0);
}

TEST_CASE(
    "the bench's spectrum is kept as a picture, and a chart's figures are copied as a table") {
    std::string kept;
    test::HeadlessWindow window(
        test::sample_snapshot(test::full_plate()), 1280, 800, 1.0, wording::Language::english,
        {.keep_picture = [&kept](const plot::Chart&, const std::string& name) {
            kept = name;
            return std::string("Kept: somewhere");
        }});
    window.strike(U'x');
    window.strike(U's');
    CHECK(kept == "spectrum");
    CHECK_FALSE(window.last_sent<bench::command::StrikeAt>()); // its own key is no foot switch
    CHECK(window.reads("Kept: somewhere"));
    kept.clear();
    window.press("Keep picture");
    CHECK(kept == "spectrum");
    window.strike(screen::Key::f2);
    window.strike(U't');
    CHECK(window.reads_within("Copied: a table"));
    const std::string table = ImGui::GetClipboardText();
    CHECK(table.find("wood comes off towards the right\t") != std::string::npos);
    CHECK(std::count(table.begin(), table.end(), '\n') > 27); // nine sessions of three named modes
}

TEST_CASE("the search looks into the notes of sessions as well") {
    auto now = test::sample_snapshot(test::full_plate());
    auto instruments = std::make_shared<std::vector<ledger::InstrumentSummary>>(*now.instruments);
    instruments->at(0).plates.at(0).session_notes =
        "scraped the upper bout\nThrough a heron's eyes";
    now.instruments = instruments;
    test::HeadlessWindow window(now);
    window.strike(screen::Key::f4);
    CHECK(window.reads("Larkfield 3, violin"));
    window.press("[look for: label, kind, wood, notes]");
    window.write("HERON'S");
    CHECK(window.reads("Larkfield 7, violin"));
    CHECK_FALSE(window.reads("Larkfield 3, violin"));
}

TEST_CASE("pointing at a session reads it with all its modes at once") {
    HeadlessWindow window(sample_snapshot(full_plate()));
    window.strike(Key::f2);
    window.press("by session");
    const screen::Seen* third = window.find("3");
    REQUIRE(third);
    window.point_at({0.5 * (third->where.left + third->where.right), third->where.top - 120.0});
    for (const char* mode : {"mode 1 (twist): ", "mode 2 (X): ", "mode 5 (ring): "}) {
        CHECK(window.reads_within(mode));
    }
    CHECK(window.reads_within("122.8 g"));
    CHECK(window.reads_within("A click opens it."));
}

TEST_CASE("in a wide window the drift stands beside the bench, and the keys of both work") {
    HeadlessWindow window(sample_snapshot(full_plate()), 2560, 1440);
    CHECK(window.reads("by mass"));
    CHECK(window.reads("Accepted"));
    window.strike(U'c');
    CHECK(window.reads("cents from the first session"));
    window.strike(U' ');
    CHECK(window.last_sent<command::StrikeAt>());
}

TEST_CASE("one microphone has one level, at the foot and large beside the meter") {
    auto now = sample_snapshot(nullptr);
    for (const double level : {-33.4, -35.6, -11.9}) {
        now.input.state = bench::InputState::running;
        now.input.level_dbfs = level;
        HeadlessWindow window(now);
        window.strike(Key::f5);
        const std::string figure = base::signed_fixed(level, 0);
        CAPTURE(figure);
        CHECK(window.reads(figure));           // the meter's
        CHECK(window.reads(figure + " dBFS")); // the foot's
    }
}

TEST_CASE("a kept goal stands in the drift of its mode, with what is left to it") {
    auto plate = full_plate();
    plate->goals = {{5, 349.0, false}};
    HeadlessWindow window(sample_snapshot(plate));
    window.strike(Key::f2);
    CHECK(window.reads_within("goal 349.0"));
    plate = full_plate();
    plate->goals = {{5, 349.0, true}}; // the reference's, which has its own line
    window.show(sample_snapshot(plate));
    CHECK_FALSE(window.reads_within("goal 349.0"));
}
