#include "headless_window.hpp"
#include "support/catch.hpp"

using namespace platewright;
using screen::Key;
using test::HeadlessWindow;
using test::sample_plate;
using test::sample_snapshot;
namespace command = bench::command;

namespace {
bench::Snapshot first_visit() {
    auto now = sample_snapshot(nullptr);
    now.instruments.reset();
    return now;
}
} // namespace

TEST_CASE("the first visit listens to the room when asked, and says what it heard") {
    HeadlessWindow window(first_visit());
    CHECK(window.reads("1  A microphone"));
    window.strike(U'h');
    CHECK(window.last_sent<command::HearRoom>());
    window.now().hearing_room = true;
    window.pictures(1);
    CHECK(window.reads("Three seconds of quiet, please."));
    window.now().hearing_room = false;
    window.now().room = bench::RoomReport{-51.0, 50.0, 24.0, -19.0, false};
    window.pictures(1);
    CHECK(window.reads_within("The mains hums at 50 Hz, 24 dB above"));
    CHECK(window.reads_within("it hears 19 dB less"));
}

TEST_CASE("a tap for practice is answered as a good one is, and as what it is where it is none") {
    HeadlessWindow window(first_visit());
    bench::TapView tap{.record = sample_plate(2)->history.sessions.back().taps.back(),
                       .fate = bench::TapFate::not_kept,
                       .named = {},
                       .why_not_kept = "Make or open a plate first (F4).",
                       .answered = std::chrono::steady_clock::now()};
    tap.record.verdict = taps::Verdict::accepted;
    window.now().tap = tap;
    window.pictures(2);
    CHECK(window.reads("A good tap"));
    CHECK(window.reads_within("For practice: it is not kept."));
    CHECK_FALSE(window.reads("Not kept"));
    const screen::Seen* beside = window.find("For practice: it is not kept.");
    const screen::Seen* heard = window.find("A good tap");
    REQUIRE((beside && heard));
    CHECK(beside->where.top >= heard->where.bottom - 2.0); // below, not over each other
    window.now().tap->fate = bench::TapFate::refused;
    window.now().tap->record.verdict = taps::Verdict::too_weak;
    window.pictures(2);
    CHECK(window.reads("Too weak"));
    CHECK_FALSE(window.reads("A good tap"));
}

TEST_CASE("the first visit leads to the first instrument's form with one key") {
    HeadlessWindow window(first_visit());
    window.strike(U'i');
    CHECK(window.desk().place() == screen::Place::plates);
    CHECK(window.reads("A new instrument"));
}

TEST_CASE("the first visit opens the demo workshop, and says where it is") {
    int opened = 0;
    HeadlessWindow window(first_visit(), 1280, 800, 1.0, wording::Language::english,
                          {.open_demo = [&opened](bool) {
                              ++opened;
                              return std::string("It is being entered into a folder of its own.");
                          }});
    CHECK(window.reads_within("the demo workshop is invented"));
    window.press("Open the demo workshop");
    CHECK(opened == 1);
    CHECK(window.reads_within("It is being entered into a folder of its own."));
}

TEST_CASE("a session's taps are looked into and heard again") {
    HeadlessWindow window(sample_snapshot(test::full_plate()));
    window.strike(Key::f7);
    CHECK(window.reads_within("session 9 of 9"));
    REQUIRE(window.last_sent<command::StudyTap>());
    CHECK(window.last_sent<command::StudyTap>()->tap == 801);
    window.now().study = test::sample_study();
    window.pictures(2);
    CHECK(window.reads_within("Fit: very good (\u221231.4 dB left over)"));
    CHECK(window.reads("left over"));
    window.strike(U'p');
    CHECK(window.last_sent<command::PlayTap>()->tap == 801);
    window.now().playing = 801;
    window.pictures(1);
    window.press("Silence");
    CHECK(window.last_sent<command::PlayTap>()->tap == 0);
    window.press("Earlier one");
    CHECK(window.reads_within("session 8 of 9"));
    CHECK(window.last_sent<command::StudyTap>()->tap == 701);
}

TEST_CASE("the settings change what is said at once, and the bench says its own again") {
    HeadlessWindow window(sample_snapshot(sample_plate(2)));
    window.strike(Key::f6);
    window.press("Deutsch");
    CHECK(window.reads("Optionen"));
    CHECK(window.last_sent<command::SayAgain>());
    window.strike(Key::f1);
    CHECK(window.reads("Angenommen"));
    const double figure = sample_plate(2)->figures[2].now->mode.frequency_hz;
    CHECK(window.reads(wording::figure(figure, 1))); // with a comma
    CHECK(wording::figure(figure, 1).find(',') != std::string::npos);
    window.strike(Key::f6);
    window.press("English");
    window.press("5");
    CHECK(window.last_sent<command::SetHabits>()->habits.taps_a_spot == 5);
}

TEST_CASE("what is said aloud is set under the settings, by a key too, and tried once") {
    HeadlessWindow window(sample_snapshot(sample_plate(2)));
    CHECK_FALSE(window.last_sent<command::SetHabits>()->habits.says_figures);
    window.strike(Key::f6);
    CHECK(window.reads("Said aloud"));
    window.press("fast");
    CHECK(window.last_sent<command::SetHabits>()->habits.voice.rate == 40);
    window.press("Say it once");
    CHECK(window.last_sent<command::SayFigures>());
    window.strike(U'G');
    CHECK(window.last_sent<command::SetHabits>()->habits.says_figures);
    CHECK(window.desk().preferences().says_figures);
    window.strike(U'G');
    CHECK_FALSE(window.last_sent<command::SetHabits>()->habits.says_figures);
}

TEST_CASE(
    "a hammer's channel and newtons are chosen at the ear, and a session shows its responses") {
    auto now = sample_snapshot(test::full_plate());
    now.inputs = {{"ALSA: pulse", 2, 48000, true}};
    now.chosen.force_channel = 1;
    HeadlessWindow window(now);
    window.strike(Key::f5);
    CHECK(window.reads("[channel of a hammer's force]"));
    window.press("[newtons at its full scale (empty: not known)]");
    window.write("220");
    window.strike(Key::f1); // the field is left
    window.strike(Key::f5);
    auto plate = std::make_shared<bench::PlateView>(*test::full_plate());
    plate->forced.push_back({.spot = taps::Spot::centre,
                             .newton = 220,
                             .strikes = 5,
                             .clipped = 1,
                             .driven_to_hz = 900,
                             .modes = {{{1.2e-4, 1.5, 0.01, 0.998}, 5, 352.8}}});
    now = sample_snapshot(plate);
    now.tap->force = modes::ForceVerdict::clipped;
    window.show(now);
    window.strike(Key::f7);
    CHECK(window.reads_within("Response to the force, centre"));
    CHECK(window.reads_within("5: 352.8 Hz, \u221278.4 \u00b1 0.2 dB, +86\u00b0, coherence 0.998"));
    CHECK(window.reads_within("Without force 0, clipped 1, pushed twice 0"));
    window.strike(Key::f1);
    CHECK(window.reads_within("its force was clipped"));
}

TEST_CASE("any key that means nothing else is a foot switch at the bench") {
    HeadlessWindow window(sample_snapshot(sample_plate(2)));
    window.strike(Key::pedal);
    REQUIRE(window.last_sent<command::StrikeAt>());
    window.sent.clear();
    window.strike(U'q');
    CHECK(window.last_sent<command::StrikeAt>());
    window.sent.clear();
    window.strike(Key::f2);
    window.strike(U'q');
    CHECK_FALSE(window.last_sent<command::StrikeAt>()); // not at the desk
}

TEST_CASE("a chart is kept as a picture under a name, on white") {
    std::string name;
    plot::Chart kept;
    HeadlessWindow window(sample_snapshot(test::full_plate()), 1280, 800, 1.0,
                          wording::Language::english,
                          {.keep_picture = [&](const plot::Chart& chart, const std::string& as) {
                              kept = chart;
                              name = as;
                              return "Kept: here";
                          }});
    window.strike(U'd'); // dark
    window.strike(Key::f2);
    window.strike(U's');
    CHECK(name == "drift");
    CHECK(window.reads("Kept: here"));
    const auto drawn_in = [&](plot::Colour colour) {
        return std::ranges::any_of(kept.strips, [&](const plot::Chart& strip) {
            return std::ranges::any_of(
                strip.curves, [&](const auto& curve) { return curve.pen.colour == colour; });
        });
    };
    CHECK(drawn_in(plot::paper_palette().mode_5));
    CHECK_FALSE(drawn_in(plot::dark_palette().mode_5));
}

TEST_CASE("the wheel looks closer about the pointer, and Z shows all again") {
    HeadlessWindow window(sample_snapshot(test::full_plate()));
    window.strike(Key::f2);
    window.press("by session");
    CHECK(window.reads("9"));
    const screen::Seen* third = window.find("3");
    REQUIRE(third);
    window.point_at({third->where.left, third->where.top - 150.0});
    for (int i = 0; i < 8; ++i) {
        window.wheel(1);
    }
    CHECK(window.reads("3"));
    CHECK_FALSE(window.reads("9"));
    window.strike(U'z');
    CHECK(window.reads("9"));
}
