// What the band above the lanes answers.
#include "headless_window.hpp"
#include "support/catch.hpp"

using namespace platewright;
using test::HeadlessWindow;
using test::sample_plate;
using test::sample_snapshot;
namespace command = bench::command;

TEST_CASE("taps are planned spot by spot, or without spots as many as the decision wants") {
    auto plate = sample_plate(2);
    HeadlessWindow window(sample_snapshot(plate));
    CHECK(window.reads("1 refused: struck twice"));
    for (auto& tap : plate->history.sessions.back().taps)
        tap.spot = taps::Spot::centre;
    window.now().striking_at = taps::Spot::upper_end;
    window.pictures(1);
    CHECK(window.reads("upper end"));
}

TEST_CASE("an answer ages: after some seconds the band listens and keeps the last word") {
    HeadlessWindow window(sample_snapshot(sample_plate(2)));
    CHECK(window.reads("Accepted"));
    CHECK(window.desk().wake_in_s() <= 1.0);
    window.now().tap->answered -= std::chrono::seconds(9);
    window.pictures(1);
    CHECK(window.reads("Listening"));
    CHECK(window.reads("Last: Accepted"));
    CHECK(window.desk().wake_in_s() > 1e6); // nothing is redrawn without cause
}

TEST_CASE("every verdict is answered in words") {
    HeadlessWindow window(sample_snapshot(sample_plate(2)));
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

TEST_CASE("where taps suffice the answer to one points to what to do, and asks for none") {
    auto plate = std::make_shared<bench::PlateView>(*sample_plate(2));
    HeadlessWindow window(sample_snapshot(plate));
    const auto decide = [&](trends::Advice advice) {
        plate->decision.advice = advice;
        window.now().plate = plate;
        window.pictures(1);
    };
    decide(trends::Advice::stop);
    CHECK(window.reads_within("enough. What to do stands below."));
    window.now().tap->fate = bench::TapFate::refused;
    window.now().tap->record.verdict = taps::Verdict::struck_twice;
    window.pictures(1);
    CHECK(window.reads_within("Enough taps without it"));
    decide(trends::Advice::tap);
    CHECK(window.reads_within("Let the hammer spring back"));
    window.now().tap.reset();
    decide(trends::Advice::tap);
    CHECK(window.reads("Tap the plate."));
    decide(trends::Advice::weigh);
    CHECK(window.reads("Enough taps: what to do stands below."));
}

TEST_CASE("what the ringing tap reads is its own, and a session begun for a tap is said") {
    HeadlessWindow window(sample_snapshot(sample_plate(2)));
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
    HeadlessWindow window(sample_snapshot(sample_plate(2)));
    window.strike(U'y');
    CHECK_FALSE(window.last_sent<command::CountTap>());
    window.now().tap->fate = bench::TapFate::refused;
    for (const taps::Verdict verdict : {taps::Verdict::stranger, taps::Verdict::doubtful}) {
        ++window.now().tap->record.id;
        window.now().tap->record.verdict = verdict;
        window.pictures(1);
        window.strike(U'y');
        REQUIRE(window.last_sent<command::CountTap>());
        CHECK(window.last_sent<command::CountTap>()->tap == window.now().tap->record.id);
    }
    CHECK(window.reads("Hardly a ring"));
    CHECK(window.reads_within("Y counts it, if it was the plate"));
}

TEST_CASE("a doubtful tap that no session kept is not offered to Y") {
    HeadlessWindow window(sample_snapshot(sample_plate(2)));
    window.now().tap->fate = bench::TapFate::refused;
    window.now().tap->record.verdict = taps::Verdict::doubtful;
    window.now().tap->record.id = 0;
    window.pictures(1);
    CHECK(window.reads_within("it was not kept. N begins one"));
    CHECK_FALSE(window.reads_within("Y counts it"));
}

TEST_CASE("of several refused taps only the last is called by its reason") {
    auto plate = sample_plate(2);
    ledger::TapRecord weak = plate->history.sessions.back().taps.back();
    weak.verdict = taps::Verdict::too_weak;
    plate->history.sessions.back().taps.push_back(weak);
    HeadlessWindow window(sample_snapshot(plate));
    CHECK(window.reads("2 refused, the last: too weak"));
}

TEST_CASE("once taps suffice the decision stands larger than the answer to the last tap") {
    auto plate = test::full_plate();
    plate->naming.doubt.sentence.clear();
    plate->naming.doubt.ask_spot.reset();
    for (const auto language : wording::k_languages) {
        plate->decision.advice = trends::Advice::tap;
        HeadlessWindow window(sample_snapshot(plate), 1280, 800, 1.0, language);
        const std::string accepted(wording::say("Accepted"));
        REQUIRE(window.find(accepted));
        CHECK(window.find(accepted)->height >= 60.0);
        for (const trends::Advice advice : {trends::Advice::take, trends::Advice::stop}) {
            plate->decision.advice = advice;
            plate->decision.taps_wanted = 0;
            window.pictures(2);
            const auto* said = window.find(trends::sentence_of(plate->decision));
            REQUIRE(said);
            CHECK(said->height >= 34.0);
            if (advice == trends::Advice::stop) {
                CHECK(said->height > window.find(accepted)->height);
            }
        }
    }
}

TEST_CASE("silence is said in the place of the answer") {
    HeadlessWindow window(sample_snapshot(sample_plate(2)));
    window.now().tap.reset();
    window.now().input.silent = true;
    window.pictures(1);
    CHECK(window.reads("No sound"));
    CHECK(window.reads_within("it is muted, turned down, or not the one"));
}

TEST_CASE("an input that was lost, sound that was lost and full scale are said") {
    HeadlessWindow window(sample_snapshot(sample_plate(2)));
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
