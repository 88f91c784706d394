#include "carved_plate.hpp"
#include "headless_window.hpp"
#include "support/catch.hpp"
#include "support/sample_stock.hpp"
#include "support/temporary_folder.hpp"
#include "whole_text.hpp"

#include <functional>

using namespace platewright;
using screen::Key;
using test::check_whole;
using test::full_plate;
using test::HeadlessWindow;
using test::NativeWindow;
using test::sample_plate;
using test::sample_snapshot;
using wording::Language;
using wording::Phrase;

namespace {

constexpr int k_most_pages = 40;

/// A state of the window in which all that is written has to be whole.
struct State {
    const char* name;
    std::function<bench::Snapshot()> now;
    std::vector<Key> keys;
    std::u32string letters;
    std::optional<Phrase> pressed = std::nullopt;
};

std::vector<State> states() {
    const auto full = [] { return sample_snapshot(full_plate()); };
    const auto refused = [] {
        auto now = sample_snapshot(full_plate());
        now.tap->record.verdict = taps::Verdict::noise_before;
        now.input.overruns = 3;
        now.input.clipped = true;
        return now;
    };
    const auto aged = [] {
        auto now = sample_snapshot(full_plate());
        now.tap->answered -= std::chrono::minutes(1);
        return now;
    };
    const auto fresh = [] {
        auto plate = full_plate();
        auto now = sample_snapshot(plate);
        now.tap.reset();
        ledger::SessionHistory session;
        session.session.id = 10;
        plate->history.sessions.push_back(session);
        plate->session = 10;
        plate->decision = {
            .advice = trends::Advice::tap, .taps_wanted = 3, .spot = taps::Spot::lower_bout_right};
        for (bench::ModeView& figure : plate->figures) {
            figure.now.reset();
        }
        return now;
    };
    const auto nothing = [] {
        auto now = sample_snapshot(nullptr);
        now.instruments.reset();
        return now;
    };
    const auto no_session = [] { return sample_snapshot(sample_plate(0)); };
    const auto missing_mode = [] {
        auto plate = sample_plate(2);
        plate->figures[0].now.reset();
        plate->figures[2].now.reset();
        return sample_snapshot(plate);
    };
    const auto guided = [] {
        auto now = sample_snapshot(full_plate());
        now.striking_at = taps::Spot::lower_bout_right;
        now.good_taps_here = 2;
        now.taps_to_put_back = 1;
        now.input.state = bench::InputState::ended;
        return now;
    };
    const auto studied = [] {
        auto now = sample_snapshot(full_plate());
        now.study = test::sample_study();
        now.playing = 801;
        return now;
    };
    const auto heard_room = [nothing] {
        auto now = nothing();
        now.room = bench::RoomReport{-51.0, 50.0, 24.0, -19.0, false};
        now.input.state = bench::InputState::running;
        return now;
    };
    const auto hearing_room = [nothing] {
        auto now = nothing();
        now.hearing_room = true;
        return now;
    };
    const auto carved = [] { return test::carved().snapshot(); };
    const auto planned = [] { return test::planned_pass(); };
    const auto planning = [] { // the program was begun anew: the plan is there, the model not yet
        auto now = test::planned_pass();
        auto work = std::make_shared<bench::PlateWork>();
        work->doing = wording::say("Fitting the model to this plate");
        now.work = work;
        return now;
    };
    const auto modelling = [] {
        auto now = test::carved().snapshot();
        auto work = std::make_shared<bench::PlateWork>();
        work->doing = wording::say("Fitting the model to this plate");
        work->share = 0.4;
        now.work = work;
        return now;
    };
    const auto wood = [] {
        auto now = sample_snapshot(full_plate());
        now.stock = test::sample_stock();
        return now;
    };
    const auto reading_wood = [wood] {
        auto now = wood();
        auto stock = std::make_shared<bench::StockView>(*now.stock);
        stock->doing = wording::say("Reading the taps of the wood");
        stock->share = 0.4;
        now.stock = stock;
        return now;
    };
    const auto in_air = [] {
        auto plate = full_plate();
        plate->in_air =
            std::make_shared<trends::HistoryInAir>(trends::in_air(plate->history, {20.0, 50.0}));
        auto now = sample_snapshot(plate);
        now.air = {20.0, 50.0};
        now.in_air = true;
        return now;
    };
    const auto filed = [] {
        auto now = sample_snapshot(full_plate());
        now.copies = {{"123",
                       {},
                       ledger::LaidCopy::Kind::replaced,
                       123,
                       base::Timestamp{86'400'000},
                       2'500'000}};
        now.binned = {{"session", 7, {86'400'000}, std::string(wording::say("session"))}};
        now.undoable = wording::say("caliper readings changed");
        bench::ErrandView errand{.number = 1,
                                 .doing = std::string(wording::say("Looking into the bundle")),
                                 .done = true};
        errand.outcome.sentence = wording::say("This would come of it; nothing was changed yet.");
        errand.outcome.lines = {
            wording::say("{}: {} new, {} here already, {} different",
                         wording::say("What belongs to them"), 1234, 567, 89),
            std::string(wording::say("Where the two differ this ledger's word counts."))};
        now.errand = std::make_shared<const bench::ErrandView>(errand);
        return now;
    };
    const auto told = [] {
        auto now = sample_snapshot(full_plate());
        now.notices.push_back(
            {1, true,
             std::string(wording::say("The disk is full, so the ledger could not take this in. "
                                      "Free some space and do it again; "
                                      "everything shown as kept before is safe."))});
        return now;
    };
    const auto hammer = [] {
        auto plate = full_plate();
        for (const auto spot : {taps::Spot::unknown, taps::Spot::lower_bout_right})
            plate->forced.push_back({.spot = spot,
                                     .newton = spot == taps::Spot::unknown ? 0.0 : 220.0,
                                     .strikes = 12,
                                     .no_force = 3,
                                     .clipped = 11,
                                     .pushed_twice = 2,
                                     .driven_to_hz = 1234,
                                     .modes = {{{1.2e-4, -1.5, 0.01, 0.998}, 5, 352.8}}});
        auto now = sample_snapshot(plate);
        now.tap->force = modes::ForceVerdict::clipped;
        now.input.force_channel = 1;
        now.inputs = {{"ALSA: pulse", 2, 48000, true}};
        now.chosen.force_channel = 1;
        return now;
    };
    return {{"bench, a hammer's force", hammer, {Key::f1}, U""},
            {"ear, a hammer's force", hammer, {Key::f5}, U""},
            {"session, a hammer's force", hammer, {Key::f7}, U""},
            {"bench, the next pass", planned, {Key::f1}, U""},
            {"bench, the next pass, aside", planned, {Key::f1}, U"x"},
            {"bench, the next pass, the lanes again", planned, {Key::f1}, U"x"},
            {"bench, the next pass, its model awaited", planning, {Key::f1}, U""},
            {"bench, a notice", told, {Key::f1}, U""},
            {"bench, more", full, {Key::f1}, U"x"},
            {"bench, the figures again", full, {Key::f1}, U"x"},
            {"drift, in one air", in_air, {Key::f2}, U""},
            {"bench, in one air", in_air, {Key::f1}, U""},
            {"wood", wood, {Key::f9}, U""},
            {"wood, beside the good one", wood, {Key::f9}, U"", Phrase("Set all beside it")},
            {"wood, a piece's form", wood, {Key::f9}, U"w"},
            {"wood, being read", reading_wood, {Key::f9}, U""},
            {"wood, nothing", full, {Key::f9}, U""},
            {"carve, thickness", carved, {Key::f8}, U"", Phrase("Thickness")},
            {"carve, shape", carved, {Key::f8}, U"", Phrase("Shape")},
            {"carve, motion", carved, {Key::f8}, U"", Phrase("Motion")},
            {"carve, strokes", carved, {Key::f8}, U"", Phrase("Strokes")},
            {"carve, next pass", carved, {Key::f8}, U"", Phrase("Next pass")},
            {"carve, trial", carved, {Key::f8}, U"", Phrase("Trial")},
            {"carve, by hand", carved, {Key::f8}, U"", Phrase("By hand")},
            {"carve, modelling", modelling, {Key::f8}, U"", Phrase("Strokes")},
            {"carve, no map", full, {Key::f8}, U"", Phrase("Next pass")},
            {"carve, nothing", nothing, {Key::f8}, U""},
            {"bench, guided, a recording over", guided, {Key::f1}, U""},
            {"first run, the room heard", heard_room, {Key::f1}, U""},
            {"first run, hearing the room", hearing_room, {Key::f1}, U""},
            {"session", studied, {Key::f7}, U""},
            {"session, nothing", nothing, {Key::f7}, U""},
            {"drift, looked into", full, {Key::f2}, U".."},
            {"bench", full, {Key::f1}, U""},
            {"bench, the spectrum", full, {Key::f1}, U"x"},
            {"bench, the spectrum away", full, {Key::f1}, U"x"},
            {"bench, an answer of some time ago", aged, {Key::f1}, U""},
            {"bench, a new session", fresh, {Key::f1}, U""},
            {"bench, a tap refused", refused, {Key::f1}, U""},
            {"bench, naming", full, {Key::f1}, U"m"},
            {"bench, the session's form", full, {Key::f1}, U"e"},
            {"bench, no session", no_session, {Key::f1}, U""},
            {"bench, modes not found", missing_mode, {Key::f1}, U""},
            {"bench, nothing", nothing, {Key::f1}, U""},
            {"drift", full, {Key::f2}, U""},
            {"drift by session in cents", full, {Key::f2}, U"aac"},
            {"drift, all modes", full, {Key::f2}, U"o"},
            {"drift in strips again", full, {Key::f2}, U"o"},
            {"drift, nothing", nothing, {Key::f2}, U""},
            {"beside", full, {Key::f3}, U""},
            {"beside, nothing", nothing, {Key::f3}, U""},
            {"plates", full, {Key::f4}, U""},
            {"plates, an instrument's form", full, {Key::f4}, U"i"},
            {"plates, a plate's form", full, {Key::f4}, U"p"},
            {"plates, nothing", nothing, {Key::f4}, U""},
            {"ear", full, {Key::f5}, U""},
            {"settings", full, {Key::f6}, U""},
            {"files, paper", filed, {Key::f10}, U""},
            {"files, recordings", filed, {Key::f10}, U"", Phrase("Recordings")},
            {"files, bundles", filed, {Key::f10}, U"", Phrase("Bundles")},
            {"files, copies", filed, {Key::f10}, U"", Phrase("Copies")},
            {"files, bin", filed, {Key::f10}, U"", Phrase("Bin")},
            {"files, nothing", nothing, {Key::f10}, U""}};
}

/// So that all is offered.
screen::Outside all_that_can_be_asked() {
    screen::Outside outside;
    outside.print = [](const auto&) { return bench::Errand{}; };
    outside.take_out = [](const auto&) { return bench::Errand{}; };
    outside.take_in = [](const auto&, bool, bool) { return bench::Errand{}; };
    outside.enter = [](const auto&) { return bench::Errand{}; };
    outside.folder = [] { return std::filesystem::path("/"); };
    outside.show_file = [](const auto&) { return std::string(); };
    return outside;
}

void go_to(HeadlessWindow& window, const State& state) {
    window.show(state.now());
    for (const Key key : state.keys) {
        window.strike(key);
    }
    for (const char32_t letter : state.letters) {
        window.strike(letter);
    }
    if (state.pressed) {
        window.press(wording::say(*state.pressed));
    }
    if (window.reads(wording::say("Stand still"))) { // labels that move have no end to page down to
        window.strike(U' ');
    }
}

} // namespace

// A view that scrolls is looked at from its top to its end.
TEST_CASE("no text is cut off, lies on another or is smaller than asked for, in any view, language "
          "and size") {
    const test::TemporaryFolder home; // what is listed of it may have names of any length
    setenv("HOME", home.path().c_str(), 1);
    for (const Language language : wording::k_languages) {
        for (const NativeWindow& native_window : test::k_glasses) {
            HeadlessWindow window(sample_snapshot(nullptr), native_window.width,
                                  native_window.height, native_window.text_size, language,
                                  all_that_can_be_asked());
            for (const State& state : states()) {
                INFO(wording::own_name(language)
                     << ", " << native_window.width << " x " << native_window.height << ", text "
                     << native_window.text_size << ": " << state.name);
                go_to(window, state);
                CHECK(window.seen.size() > 10);
                check_whole(window, native_window);
                window.strike(Key::home);
                for (int page = 0; page < k_most_pages && window.page_down(); ++page) {
                    CHECK(page + 1 < k_most_pages);
                    check_whole(window, native_window);
                }
                window.strike(Key::escape); // leaves a form and the naming
                window.desk().wish({.language = language});
            }
        }
    }
}

TEST_CASE("what is scrolled out of a view is reached by the keys that move the focus, and comes "
          "into sight") {
    for (const NativeWindow& native_window :
         {NativeWindow{1280, 800, 2.0}, NativeWindow{1920, 1080, 1.5}}) {
        HeadlessWindow window(sample_snapshot(full_plate()), native_window.width,
                              native_window.height, native_window.text_size);
        window.strike(Key::f6);
        const std::string last(wording::say("Keep this air"));
        REQUIRE_FALSE(window.reads(last));
        for (int i = 0; i < 60 && !window.reads(last); ++i) {
            window.move_focus(ImGuiKey_DownArrow);
        }
        REQUIRE(window.reads(last));
        // On it: what it sends is sent.
        const auto focused = [&] {
            window.sent.clear();
            window.strike(Key::enter);
            return window.last_sent<bench::command::SetAir>().has_value();
        };
        bool pressed = focused();
        for (int i = 0; i < 5 && !pressed; ++i) {
            window.move_focus(ImGuiKey_DownArrow);
            pressed = focused();
        }
        CHECK(pressed);
    }
}
