#include "base/text.hpp"
#include "screen/bench/lanes.hpp"
#include "support/catch.hpp"
#include "window_without_glass.hpp"

#include <tuple>

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

TEST_CASE("each mode stands in a lane with its difference large and its doubt beside it") {
    auto plate = sample_plate(4);
    test::compare_with_reference(*plate);
    WindowWithoutGlass window(sample_snapshot(plate));
    const std::string away = base::signed_fixed(*plate->figures[2].against_reference->hz, 1);
    const screen::Seen* difference = window.find(away);
    REQUIRE(difference);
    CHECK(difference->height >= 64.0);
    const screen::Seen* now = window.find(base::fixed(plate->figures[2].now->mode.frequency_hz, 1));
    REQUIRE(now);
    CHECK(now->height >= 34.0);
    const screen::Seen* doubt = window.find("\u00b1 1.6 Hz"); // 95 % of 0.8 Hz
    REQUIRE(doubt);
    CHECK(doubt->height >= 34.0);
    CHECK(window.reads("to the reference"));
    CHECK(window.reads_within("Q 64"));
    CHECK(window.reads("87 % sure"));
    CHECK(window.reads("\u00b1 0.89 Hz, 6 taps"));
    CHECK(window.reads("\u22126 %"));
}

TEST_CASE("what a maker needs standing is large enough to be read from two metres") {
    // 34 px on a 24 inch screen of 1080 lines are 16 minutes of arc at 2 m (ISO 9241-303).
    const auto plate = test::full_plate();
    plate->naming.doubt.clear();
    plate->naming.ask_spot.reset();
    WindowWithoutGlass window(sample_snapshot(plate));
    for (const std::string& words :
         {std::string("Accepted"),
          base::signed_fixed(plate->figures[2].now->mode.frequency_hz - 349.0, 1),
          base::fixed(plate->figures[2].now->mode.frequency_hz, 1), std::string("101.2 g"),
          std::string("5")}) {
        INFO(words);
        REQUIRE(window.find(words));
        CHECK(window.find(words)->height >= 34.0);
    }
    window.now().striking_at = taps::Spot::centre;
    window.pictures(1);
    REQUIRE(window.find("centre"));
    CHECK(window.find("centre")->height >= 34.0);
}

TEST_CASE("before the first tap of a session the lanes stand about the last one") {
    auto plate = sample_plate(3);
    auto now = sample_snapshot(plate);
    now.tap.reset();
    ledger::SessionHistory fresh;
    fresh.session.id = 4;
    plate->history.sessions.push_back(fresh);
    plate->session = 4;
    for (bench::ModeView& figure : plate->figures) {
        figure.now.reset();
        figure.since_last.reset();
    }
    const auto lanes = screen::lanes_of(*plate);
    REQUIRE(lanes.size() == 3);
    for (const screen::Lane& lane : lanes) {
        CHECK_FALSE(lane.now_hz);
        CHECK(lane.against == screen::Against::last_session);
        CHECK(lane.centre_hz == lane.last_hz);
    }
    WindowWithoutGlass window(now);
    CHECK(window.reads("not found yet"));
    CHECK(window.reads_within("last session " + base::fixed(*lanes[2].last_hz, 1)));
}

TEST_CASE("a lane is about the goal, without one about the reference, without that about the last "
          "session, and says which") {
    auto plate = sample_plate(4);
    const auto against = [&] { return screen::lanes_of(*plate)[2].against; };
    CHECK(against() == screen::Against::last_session);
    test::compare_with_reference(*plate);
    CHECK(against() == screen::Against::reference);
    plate->goals = {{5, 349.0, false}};
    CHECK(against() == screen::Against::goal);
    const screen::Lane lane = screen::lanes_of(*plate)[2];
    CHECK(*lane.away_hz == Approx(plate->figures[2].now->mode.frequency_hz - 349.0));
    CHECK(screen::lanes_of(*sample_plate(1))[2].against == screen::Against::nothing);
}

TEST_CASE("the lanes' scale shows six per cent, and doubles where a mode lies beyond it") {
    std::vector<screen::Lane> lanes(2);
    lanes[0].now_hz = 105.0, lanes[0].centre_hz = 100.0;
    CHECK(screen::reach_of(lanes) == Approx(0.06));
    lanes[1].now_hz = 80.0, lanes[1].centre_hz = 100.0;
    CHECK(screen::reach_of(lanes) == Approx(0.24));
}

TEST_CASE("taps are planned spot by spot, or without spots as many as the decision wants") {
    auto plate = sample_plate(2);
    WindowWithoutGlass window(sample_snapshot(plate));
    CHECK(window.reads("1 refused: struck twice"));
    for (auto& tap : plate->history.sessions.back().taps)
        tap.spot = taps::Spot::centre;
    window.now().striking_at = taps::Spot::upper_end;
    window.pictures(1);
    CHECK(window.reads("upper end"));
}

TEST_CASE("an answer ages: after some seconds the band listens and keeps the last word") {
    WindowWithoutGlass window(sample_snapshot(sample_plate(2)));
    CHECK(window.reads("Accepted"));
    CHECK(window.desk().wake_in_s() <= 1.0);
    window.now().tap->answered -= std::chrono::seconds(9);
    window.pictures(1);
    CHECK(window.reads("Listening"));
    CHECK(window.reads("Last: Accepted"));
    CHECK(window.desk().wake_in_s() > 1e6); // nothing is redrawn without cause
}

TEST_CASE("when taps suffice a key ends the tapping and asks for the mass, and the next session is "
          "heard again") {
    const auto plate = test::full_plate();
    WindowWithoutGlass window(sample_snapshot(plate));
    window.obeys = false; // the ear is still on in the next pictures
    window.strike(U'w');
    REQUIRE(window.last_sent<command::Listen>());
    CHECK_FALSE(window.last_sent<command::Listen>()->on);
    window.now().input.state = bench::InputState::off;
    window.obeys = true;
    window.pictures(2);
    CHECK(window.reads("Tapping closed"));
    window.write("101,4"); // the cursor is in the mass
    window.press("Save");
    CHECK(window.last_sent<command::SaveSession>()->session.mass_g == Approx(101.4));
    CHECK_FALSE(window.last_sent<command::Listen>()->on);
    plate->session = 8; // another session lies on the bench
    window.pictures(2);
    CHECK(window.last_sent<command::Listen>()->on);
}

TEST_CASE("while taps are wanted nothing ends them") {
    const auto plate = test::full_plate();
    plate->decision = {.advice = trends::Advice::tap, .taps_wanted = 2, .spot = taps::Spot::centre};
    WindowWithoutGlass window(sample_snapshot(plate));
    CHECK_FALSE(window.reads("Enough: weigh it"));
    window.strike(U'w');
    CHECK_FALSE(window.last_sent<command::Listen>());
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
        CHECK(window.reads(static_cast<char>(word[0] - 'a' + 'A') + word.substr(1)));
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
    CHECK_FALSE(window.reads("100"));
    window.strike(U'x');
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

TEST_CASE(
    "what is not sure, the decision and its reason stand at the bench or are counted, in every "
    "size") {
    for (const auto& [width, height, text] : {std::tuple{1280, 800, 1.0},
                                              {1280, 800, 1.5},
                                              {1280, 800, 2.0},
                                              {1024, 640, 1.0},
                                              {1024, 768, 2.0},
                                              {1920, 1080, 1.0},
                                              {3840, 2160, 1.0},
                                              {3840, 2160, 2.0}}) {
        for (const auto language : wording::k_languages) {
            WindowWithoutGlass window(sample_snapshot(test::full_plate()),
                                      static_cast<float>(width), static_cast<float>(height), text,
                                      language);
            INFO(width << " x " << height << ", text " << text);
            const bench::PlateView& plate = *window.now().plate;
            const auto unread = [&] {
                std::vector<std::string> words{plate.naming.doubt,
                                               trends::sentence_of(plate.decision),
                                               trends::reason_of(plate.decision)};
                std::erase_if(words, [&](const auto& one) { return window.reads_within(one); });
                return words;
            };
            const auto counted = [&](std::size_t count) {
                return count == 0 || window.reads_within(wording::say("{} more", count));
            };
            const auto before = unread();
            CHECK(counted(before.size()));
            window.strike(U'x');
            const auto all_read = [&] {
                return std::ranges::all_of(
                    before, [&](const auto& words) { return window.reads_within(words); });
            };
            // Large letters: the plate in place of the lanes, with whatever had no room above them.
            CHECK((counted(unread().size()) ||
                   (window.reads(wording::say("Figures")) && all_read())));
        }
    }
}
