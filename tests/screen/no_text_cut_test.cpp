#include "carved_plate.hpp"
#include "support/catch.hpp"
#include "support/sample_stock.hpp"
#include "window_without_glass.hpp"

#include <functional>

using namespace platewright;
using screen::Key;
using test::full_plate;
using test::sample_plate;
using test::sample_snapshot;
using test::WindowWithoutGlass;
using wording::Language;
using wording::Phrase;

namespace {

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
        plate->in_air = std::make_shared<trends::HistoryInAir>(trends::in_air(plate->history, {20.0, 50.0}));
        auto now = sample_snapshot(plate);
        now.air = {20.0, 50.0};
        now.in_air = true;
        return now;
    };
    return {{"drift, in one air", in_air, {Key::f2}, U""},
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
            {"bench, a tap refused", refused, {Key::f1}, U""},
            {"bench, naming", full, {Key::f1}, U"m"},
            {"bench, the session's form", full, {Key::f1}, U"e"},
            {"bench, no session", no_session, {Key::f1}, U""},
            {"bench, modes not found", missing_mode, {Key::f1}, U""},
            {"bench, nothing", nothing, {Key::f1}, U""},
            {"drift", full, {Key::f2}, U""},
            {"drift by mass in cents", full, {Key::f2}, U"ac"},
            {"drift, nothing", nothing, {Key::f2}, U""},
            {"beside", full, {Key::f3}, U""},
            {"beside, nothing", nothing, {Key::f3}, U""},
            {"plates", full, {Key::f4}, U""},
            {"plates, an instrument's form", full, {Key::f4}, U"i"},
            {"plates, a plate's form", full, {Key::f4}, U"p"},
            {"plates, nothing", nothing, {Key::f4}, U""},
            {"ear", full, {Key::f5}, U""},
            {"settings", full, {Key::f6}, U""}};
}

void check_whole(const WindowWithoutGlass& window, double width, double height) {
    for (std::size_t i = 0; i < window.seen.size(); ++i) {
        const auto& a = window.seen[i];
        // What the maker or his sound system named may be longer than there is room for.
        const bool own = a.words.starts_with("Larkfield") || a.words.starts_with("ALSA");
        if (a.words.ends_with("\u2026") && !own) {
            FAIL_CHECK("cut: " << a.words);
        }
        if (a.where.right > width + 1.0 || a.where.bottom > height + 1.0 || a.where.left < -1.0) {
            FAIL_CHECK("out of the window: " << a.words);
        }
        for (std::size_t j = i + 1; j < window.seen.size(); ++j) {
            const auto& b = window.seen[j];
            const double across =
                std::min(a.where.right, b.where.right) - std::max(a.where.left, b.where.left);
            const double down =
                std::min(a.where.bottom, b.where.bottom) - std::max(a.where.top, b.where.top);
            // Font boxes hold room above and below the letters: a fifth may be shared.
            const double lesser =
                std::min(a.where.bottom - a.where.top, b.where.bottom - b.where.top);
            if (across > 1.0 && down > 0.2 * lesser) {
                FAIL_CHECK("over one another: " << a.words << " | " << b.words);
            }
        }
    }
}

struct Glass {
    float width, height;
    double text_size;
};

} // namespace

// Where a window has no room for the text size asked for, it takes the largest it has room for;
// such doubles are left out. So every scale from the smallest window to the largest is looked at.
TEST_CASE("no text is cut off or lies on another, in any view, language and size") {
    for (const Language language : wording::k_languages) {
        for (const Glass& glass :
             {Glass{1024, 640, 1.0}, Glass{1024, 768, 2.0}, Glass{1280, 800, 1.0},
              Glass{1280, 800, 1.5}, Glass{1920, 1080, 1.0}, Glass{1920, 1080, 1.5},
              Glass{1920, 1080, 2.0}, Glass{3840, 2160, 1.0}}) {
            WindowWithoutGlass window(sample_snapshot(nullptr), glass.width, glass.height,
                                      glass.text_size, language);
            for (const State& state : states()) {
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
                INFO(wording::own_name(language) << ", " << glass.width << " x " << glass.height
                                                 << ", text " << glass.text_size << ": "
                                                 << state.name);
                CHECK(window.seen.size() > 10);
                check_whole(window, static_cast<double>(glass.width),
                            static_cast<double>(glass.height));
                window.strike(Key::escape); // leaves a form and the naming
                window.desk().wish({.language = language});
            }
        }
    }
}
