// The first walk: each step is ticked off by what happens at the bench, and by nothing else.
#include "headless_window.hpp"
#include "support/catch.hpp"
#include "whole_text.hpp"

using namespace platewright;
using screen::Key;
using test::HeadlessWindow;
using test::sample_plate;
using test::sample_snapshot;
namespace command = bench::command;

namespace {

/// The sample's plate with `good` taps in session `id`, which is of today's walk unless it is 9.
bench::Snapshot at_bench(ledger::Id id, int good, std::optional<double> mass_g = std::nullopt) {
    auto plate = std::make_shared<bench::PlateView>(*test::full_plate());
    plate->decision = {};
    plate->decision.advice = trends::Advice::stop;
    if (id != 9) {
        ledger::SessionHistory session = plate->history.sessions.back();
        session.session.id = id;
        session.session.mass_g = mass_g;
        session.taps.assign(static_cast<std::size_t>(good), session.taps.front());
        plate->history.sessions.push_back(session);
        plate->session = id;
    }
    auto now = sample_snapshot(test::full_plate());
    now.plate = plate;
    now.striking_at = taps::Spot::unknown;
    now.recorded = bench::RecordedView{plate->history.plate.label, 100.6, false};
    return now;
}

} // namespace

TEST_CASE("the walk is offered, begun by its key, and goes from step to step as things happen") {
    HeadlessWindow window(at_bench(9, 0));
    CHECK_FALSE(window.reads("Begin the walk"));
    window.desk().start(screen::FirstWalk::offered);
    window.pictures(1);
    CHECK(window.reads("Begin the walk"));
    window.strike(U'w');
    CHECK(window.last_sent<command::HearRecorded>()->on);
    CHECK(window.reads_within("Step 1 of 5. A session is one visit"));
    window.strike(U'a'); // not yet, and no foot switch either
    CHECK_FALSE(window.last_sent<command::StrikeRecorded>());
    CHECK_FALSE(window.last_sent<command::StrikeAt>());
    window.show(at_bench(10, 0));
    CHECK(window.reads_within("Step 2 of 5."));
    auto now = at_bench(10, 0);
    now.striking_at = taps::Spot::centre;
    window.show(now);
    CHECK(window.reads_within("Step 3 of 5. Strike 1 of 9"));
    window.strike(U'a');
    CHECK(window.last_sent<command::StrikeRecorded>());
    window.show(at_bench(10, 1));
    CHECK(window.reads_within("Strike 2 of 9"));
    now = at_bench(10, 1);
    now.tap->fate = bench::TapFate::refused;
    window.show(now);
    CHECK(window.reads_within("That one was refused, as the top says"));
    window.show(at_bench(10, 9));
    CHECK(window.reads_within("Step 4 of 5. The balance reads 100.6 g"));
    window.show(at_bench(10, 9, 100.6));
    CHECK(window.reads_within("Step 5 of 5."));
    window.strike(U'2');
    CHECK(window.reads_within("Not that: read it once more."));
    window.strike(U'3');
    CHECK(window.reads_within("That was one session and one decision."));
    window.strike(Key::escape);
    CHECK_FALSE(window.last_sent<command::HearRecorded>()->on);
    CHECK_FALSE(window.reads_within("That was one session"));
}

TEST_CASE("the walk waits while the maker is elsewhere, and the guide begins it") {
    HeadlessWindow window(at_bench(9, 0));
    window.strike(U'?');
    window.press("A first walk through the demo");
    CHECK(window.last_sent<command::HearRecorded>()->on);
    CHECK(window.reads_within("Step 1 of 5."));
    window.strike(Key::f2);
    CHECK(window.reads_within("The walk goes on at the bench (F1), with the plate"));
    auto other = at_bench(10, 0);
    other.recorded->plate = "another";
    window.show(other);
    window.strike(Key::f1);
    CHECK(window.reads_within("The walk goes on at the bench (F1), with the plate “another”."));
    window.show(at_bench(10, 0));
    CHECK(window.reads_within("Step 2 of 5."));
}

TEST_CASE("where the bench has enough the walk says so, and goes on once the tapping is closed") {
    const auto with = [](int good, trends::Advice advice) {
        auto now = at_bench(10, good);
        auto plate = std::make_shared<bench::PlateView>(*now.plate);
        plate->decision.advice = advice;
        now.plate = plate;
        now.striking_at = taps::Spot::centre;
        return now;
    };
    HeadlessWindow window(at_bench(9, 0));
    window.desk().start(screen::FirstWalk::begun);
    window.pictures(1);
    window.show(with(2, trends::Advice::tap));
    CHECK(window.reads_within("Strike 3 of 9"));
    CHECK_FALSE(window.reads_within("has enough to decide by"));
    window.show(with(3, trends::Advice::weigh));
    CHECK(window.reads_within("Strike 4 of 9 (A)"));
    CHECK(window.reads_within("The bench has enough to decide by: W goes on to the mass."));
    window.executes = false; // the input is still on in the next pictures
    window.strike(U'w');     // as the bench has it: the tapping ends, the cursor is in the mass
    window.now().input.state = bench::InputState::off;
    window.executes = true;
    window.pictures(2);
    CHECK(window.reads_within("Step 4 of 5. The balance reads 100.6 g"));
}

TEST_CASE("without recorded strikes there is no walk here, and the guide opens the demo for it") {
    bool walked = false;
    HeadlessWindow window(sample_snapshot(sample_plate(2)), 1280, 800, 1.0,
                          wording::Language::english, {.open_demo = [&walked](bool walk) {
                              walked = walk;
                              return std::string("It opens in a window of its own.");
                          }});
    window.desk().start(screen::FirstWalk::offered);
    window.pictures(1);
    CHECK_FALSE(window.reads("Begin the walk"));
    window.strike(U'?');
    window.strike(U'w');
    CHECK(walked);
    CHECK(window.reads("It opens in a window of its own."));
}

TEST_CASE(
    "no text of the walk is cut off, lies on another or is too small, in any language and size") {
    const auto spot = [](bench::Snapshot now) {
        now.striking_at = taps::Spot::lower_bout_right;
        return now;
    };
    auto refused = spot(at_bench(10, 3));
    refused.tap->fate = bench::TapFate::refused;
    for (const wording::Language language : wording::k_languages) {
        for (const test::NativeWindow& native_window : test::k_glasses) {
            INFO(wording::own_name(language)
                 << ", " << native_window.width << " x " << native_window.height << ", text "
                 << native_window.text_size);
            HeadlessWindow window(at_bench(9, 0), native_window.width, native_window.height,
                                  native_window.text_size, language);
            window.desk().start(screen::FirstWalk::offered);
            window.pictures(2);
            check_whole(window, native_window);
            window.strike(U'w');
            check_whole(window, native_window);
            for (const auto& now : {at_bench(10, 0), spot(at_bench(10, 3)), refused,
                                    at_bench(10, 9), at_bench(10, 9, 100.6)}) {
                window.show(now);
                check_whole(window, native_window);
            }
            for (const char32_t key : {U'2', U'3'}) { // misread, then the end
                window.strike(key);
                check_whole(window, native_window);
            }
            window.strike(Key::f2);
            check_whole(window, native_window);
        }
    }
}
