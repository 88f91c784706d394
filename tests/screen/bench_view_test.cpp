#include "base/text.hpp"
#include "support/catch.hpp"
#include "window_without_glass.hpp"

using namespace platewright;
using screen::Key;
using test::sample_plate;
using test::sample_snapshot;
using test::WindowWithoutGlass;
namespace command = bench::command;

TEST_CASE("without a plate the bench says what to do and leads there") {
    auto now = sample_snapshot(sample_plate(1));
    now.plate.reset();
    WindowWithoutGlass window(now);
    CHECK(window.reads("No plate on the bench"));
    window.press("Go to the plates");
    CHECK(window.desk().place() == screen::Place::plates);
}

TEST_CASE("a plate without a session is begun with one key at the stage it had") {
    WindowWithoutGlass window(sample_snapshot(sample_plate(0)));
    CHECK(window.reads("No session yet"));
    window.strike(U'n');
    const auto begun = window.last_sent<command::BeginSession>();
    REQUIRE(begun);
    CHECK(begun->session.plate == 1);
    CHECK_FALSE(begun->session.mass_g); // it has to be weighed again
}

TEST_CASE("the modes stand in large figures with spread, Q and both changes") {
    auto plate = sample_plate(4);
    test::compare_with_reference(*plate);
    WindowWithoutGlass window(sample_snapshot(plate), 1920, 1080);
    const screen::Seen* figure =
        window.find(base::fixed(plate->figures[2].now->mode.frequency_hz, 1));
    REQUIRE(figure);
    // Lato's figures are 0.72 of their font's height (measured on the letters); 72 px are asked
    // for.
    CHECK(0.72 * (figure->where.bottom - figure->where.top) >= 72.0);
    CHECK(window.reads("mode 5 (ring)"));
    CHECK(window.reads("Q 64"));
    CHECK(window.reads("\u22123.4"));
    CHECK(window.reads(base::signed_fixed(*plate->figures[2].against_reference->hz, 1)));
    CHECK(window.reads("87 % sure"));
    CHECK(window.reads_within("over 6 taps"));
}

TEST_CASE("a mode that was not found yet says how to hold and strike for it") {
    auto plate = sample_plate(2);
    plate->figures[2].now.reset();
    WindowWithoutGlass window(sample_snapshot(plate));
    CHECK(window.reads("not found yet"));
    CHECK(window.reads_within("strike the centre"));
}

TEST_CASE("every verdict is answered in words") {
    WindowWithoutGlass window(sample_snapshot(sample_plate(2)));
    CHECK(window.reads("Accepted"));
    for (const taps::Verdict verdict : taps::k_verdicts) {
        if (verdict == taps::Verdict::accepted) {
            continue;
        }
        window.now().tap->record.verdict = verdict;
        window.now().tap->fate = bench::TapFate::refused;
        window.pictures(1);
        const std::string word(taps::to_text(verdict));
        CHECK(window.reads(verdict == taps::Verdict::stranger ? word : "Refused: " + word));
    }
    window.now().tap->fate = bench::TapFate::not_kept;
    window.now().tap->why_not_kept = "The disk is full.";
    window.pictures(1);
    CHECK(window.reads("Not kept"));
    CHECK(window.reads("The disk is full."));
    CHECK_FALSE(window.reads("Accepted"));
    window.now().tap->fate = bench::TapFate::ringing;
    window.pictures(1);
    CHECK(window.reads("Ringing"));
    window.now().tap.reset();
    window.pictures(1);
    CHECK(window.reads("Listening"));
}

TEST_CASE("what the ringing tap reads is its own, and a session begun for a tap is said") {
    WindowWithoutGlass window(sample_snapshot(sample_plate(2)));
    window.now().tap->fate = bench::TapFate::ringing;
    window.now().tap->named = {{2, 170.4}, {5, 351.9}};
    window.pictures(1);
    CHECK(window.reads("2: 170.4,  5: 351.9 Hz"));
    window.now().tap->fate = bench::TapFate::kept;
    window.now().tap->began_session = true;
    window.pictures(1);
    CHECK(window.reads_within("today's session was begun for it"));
}

TEST_CASE("a tap in question is counted by Y, and Y does nothing else") {
    WindowWithoutGlass window(sample_snapshot(sample_plate(2)));
    window.strike(U'y');
    CHECK_FALSE(window.last_sent<command::CountTap>());
    window.now().tap->fate = bench::TapFate::refused;
    window.now().tap->record.verdict = taps::Verdict::stranger;
    window.pictures(1);
    window.strike(U'y');
    REQUIRE(window.last_sent<command::CountTap>());
    CHECK(window.last_sent<command::CountTap>()->tap == window.now().tap->record.id);
}

TEST_CASE("silence is said in the place of the answer") {
    WindowWithoutGlass window(sample_snapshot(sample_plate(2)));
    window.now().tap.reset();
    window.now().input.silent = true;
    window.pictures(1);
    CHECK(window.reads("No sound"));
    CHECK(window.reads_within("it is muted, turned down, or not the one"));
}

TEST_CASE("the decision stands on bench and drift, in the same words") {
    const auto plate = test::full_plate();
    plate->naming.doubt.clear(); // with it there is room for the sentence, not for its reason
    plate->naming.ask_spot.reset();
    WindowWithoutGlass window(sample_snapshot(plate));
    const std::string sentence = trends::sentence_of(plate->decision);
    CHECK(sentence == "Take 0.5 g at most, then tap again.");
    const auto* bench = window.find(sentence);
    REQUIRE(bench);
    CHECK(bench->height >= 30.0 * window.scale());
    CHECK(window.reads_within("would go beyond it with a chance of 87 %"));
    window.strike(screen::Key::f2);
    CHECK(window.reads_within(sentence));
    CHECK(window.reads_within("would go beyond it with a chance of 87 %"));
}

TEST_CASE("beside the drift no remark is dropped without a word") {
    auto plate = test::full_plate();
    for (int i = 0; i < 12; ++i)
        plate->remarks.push_back("Remark " + std::to_string(i) +
                                 " that takes a line or two of the room beside the chart.");
    WindowWithoutGlass window(sample_snapshot(plate));
    window.strike(screen::Key::f2);
    int shown = 0;
    while (window.reads_within("Remark " + std::to_string(shown) + " that"))
        ++shown;
    CHECK(shown < 12);
    CHECK(window.reads_within("and " + std::to_string(12 - shown) + " more remark"));
}

TEST_CASE("refused taps of the session stay in the strip with their reason") {
    WindowWithoutGlass window(sample_snapshot(sample_plate(2)));
    CHECK(window.reads("4 struck twice"));
    CHECK(window.reads("7"));
}

TEST_CASE("single keys do all that is needed with the hands full") {
    WindowWithoutGlass window(sample_snapshot(sample_plate(2)));
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
    WindowWithoutGlass window(sample_snapshot(sample_plate(2)));
    window.now().striking_at = taps::k_spots.back();
    window.strike(U' ');
    CHECK(window.last_sent<command::StrikeAt>()->spot == taps::Spot::unknown);
}

TEST_CASE("a mode is named by key, another by arrow, and a name is taken away by nought") {
    auto plate = sample_plate(2);
    WindowWithoutGlass window(sample_snapshot(plate));
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

TEST_CASE("mass is typed with a decimal comma, and half a number is a complaint, not a loss") {
    WindowWithoutGlass window(sample_snapshot(sample_plate(2)));
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

TEST_CASE("an input that was lost, sound that was lost and full scale are said") {
    WindowWithoutGlass window(sample_snapshot(sample_plate(2)));
    CHECK(window.reads("no sound lost"));
    window.now().input.overruns = 3;
    window.now().input.clipped = true;
    window.pictures(1);
    CHECK(window.reads("sound lost 3 times"));
    CHECK(window.reads("full scale!"));
    window.now().input.state = bench::InputState::lost;
    window.now().input.trouble = "The microphone was unplugged: plug it in again.";
    window.pictures(1);
    CHECK(window.reads("Not listening"));
    CHECK(window.reads("The microphone was unplugged: plug it in again."));
}

TEST_CASE("a notice stays until it is put away, and a newer one comes up") {
    WindowWithoutGlass window(sample_snapshot(sample_plate(2)));
    window.now().notices.push_back({4, true, "The disk is full."});
    window.pictures(1);
    CHECK(window.reads("The disk is full."));
    window.strike(Key::escape);
    CHECK_FALSE(window.reads("The disk is full."));
    window.now().notices.push_back({5, false, "The microphone is back."});
    window.pictures(1);
    CHECK(window.reads("The microphone is back."));
    window.press("Understood");
    CHECK_FALSE(window.reads("The microphone is back."));
}

TEST_CASE("the spectrum says frequency and level under the pointer, and nothing elsewhere") {
    WindowWithoutGlass window(sample_snapshot(sample_plate(2)));
    const screen::Seen* hundred = window.find("100");
    const screen::Seen* top = window.find("0");
    REQUIRE((hundred && top));
    const double x = 0.5 * (hundred->where.left + hundred->where.right);
    window.point_at({x, 0.5 * (top->where.top + top->where.bottom)});
    const auto read = std::find_if(window.seen.begin(), window.seen.end(), [](const auto& s) {
        return s.words.ends_with(" cents, +0 dB");
    });
    REQUIRE(read != window.seen.end());
    const auto hz = base::parse_number(read->words.substr(0, read->words.find(' ')));
    CHECK(hz.value_or(0) ==
          Approx(100).margin(1.4)); // 940 Hz over some 700 pixels, of which whole ones count
    window.point_at({5, 5});
    CHECK_FALSE(window.reads_within(" cents, +0 dB"));
}
