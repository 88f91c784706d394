// Real struck bars: the marimba, xylophone and glockenspiel of Debian's package freepats (Tone_000/
// 013_Xylophone.pat and 009_Glockenspiel.pat; GPL with an exception for music made with them; read
// where they are installed). The wooden bars are the nearest real thing to a tapped plate of which
// an openly licensed recording was found.

#include "bars.hpp"
#include "modes/pool/pool.hpp"
#include "reading.hpp"
#include "support/catch.hpp"
#include "taps/onset/detector.hpp"

#include <cmath>
#include <filesystem>
#include <span>
#include <vector>

namespace {

using namespace outside;
using namespace platewright;
namespace fs = std::filesystem;

const fs::path k_freepats = "/usr/share/midi/freepats/Tone_000";
const fs::path k_scratch = fs::path(PLATEWRIGHT_BUILD_DIR) / "scratch" / "freepats";

double cents(double hz, double from_hz) { return 1200.0 * std::log2(hz / from_hz); }

/// Checks the fundamental; returns its frequency as the program reads it.
double check_fundamental(const nlohmann::json& reading, const Bar& bar) {
    const double transform_hz = transform_peak_hz(bar, bar.label_hz, 60.0);
    const auto* mode = nearest_mode(reading, transform_hz);
    REQUIRE(mode != nullptr);
    const double hz = mode->at("hz").get<double>();
    INFO(bar.name << ": read " << hz << ", transform " << transform_hz << ", label "
                  << bar.label_hz);
    CHECK(std::abs(cents(hz, transform_hz)) <= 3.0);
    CHECK(std::abs(hz - transform_hz) <= 1.96 * mode->at("hz_sd").get<double>());
    CHECK(std::abs(cents(hz, bar.label_hz)) <= 35.0);
    return hz;
}

void check_partial(const nlohmann::json& reading, double fundamental_hz, double ratio,
                   double tolerance) {
    const auto* mode = nearest_mode(reading, fundamental_hz * ratio);
    REQUIRE(mode != nullptr);
    const double found = mode->at("hz").get<double>() / fundamental_hz;
    INFO("partial at " << found << " times the fundamental, expected near " << ratio);
    CHECK(std::abs(found / ratio - 1.0) <= tolerance);
}

/// The strongest mode within a third of a semitone of `about_hz` in one part of a strike's ring, as
/// if that part were all that was heard.
modes::Mode mode_of(const taps::Tap& tap, double skip_s, double about_hz) {
    const modes::FittedTap fitted{
        nullptr, taps::Spot::unknown,
        modes::fit_tap(tap, {.high_hz = 6000, .skip_s = skip_s}).partials};
    modes::Mode strongest{.level_db = -200};
    for (const modes::Mode& mode : modes::pool(std::span{&fitted, 1}).modes)
        if (std::abs(cents(mode.frequency_hz, about_hz)) < 33 && mode.level_db > strongest.level_db)
            strongest = mode;
    return strongest;
}

} // namespace

TEST_CASE(
    "freepats' bars that ring for a second: both halves of a ring agree within their intervals") {
    int pairs = 0;
    for (const char* patch : {"013_Xylophone.pat", "009_Glockenspiel.pat"}) {
        for (const Bar& bar : read_patch(k_freepats / patch)) {
            taps::Detector detector(bar.sample_rate_hz, {.high_hz = 6000});
            auto taps = detector.push(with_room(bar));
            for (auto& last : detector.finish())
                taps.push_back(std::move(last));
            REQUIRE(!taps.empty());
            const taps::Tap& whole = taps.front();
            if (static_cast<double>(whole.samples.size() - whole.onset_index) <
                1.2 * whole.sample_rate_hz)
                continue;
            constexpr double cut_s = 0.3; // it decays: the later half is the longer
            taps::Tap first = whole;
            first.samples.resize(whole.onset_index +
                                 static_cast<std::size_t>(cut_s * whole.sample_rate_hz));
            const double transform_hz = transform_peak_hz(bar, bar.label_hz, 60.0);
            const auto a = mode_of(first, 0.005, transform_hz),
                       b = mode_of(whole, cut_s, transform_hz);
            if (a.taps == 0 || b.taps == 0)
                continue; // half a ring may be too little to tell its mode from its neighbours, or
                          // from a line
            const double sd = std::hypot(a.frequency_sd_hz, b.frequency_sd_hz);
            INFO(bar.name << ": " << a.frequency_hz << " ± " << a.frequency_sd_hz << ", "
                          << b.frequency_hz << " ± " << b.frequency_sd_hz);
            CHECK(std::abs(a.frequency_hz - b.frequency_hz) <= 3.3 * sd); // one in a thousand
            // The 95 % intervals meet. A bar over its resonator glides as it dies, so their means
            // do differ.
            CHECK(std::abs(a.frequency_hz - b.frequency_hz) <=
                  1.96 * (a.frequency_sd_hz + b.frequency_sd_hz));
            ++pairs;
        }
    }
    CHECK(pairs >= 5);
}

TEST_CASE("freepats' marimba: fundamentals to 3 cents, partials near 4 and 10 times") {
    // Marimba bars are cut so that their second mode stands two octaves, their third three octaves
    // and a major third above the first: 1 : 4 : 10 (N. H. Fletcher and T. D. Rossing, The Physics
    // of Musical Instruments, ch. 19; from memory).
    int marimbas = 0;
    for (const Bar& bar : read_patch(k_freepats / "013_Xylophone.pat")) {
        if (bar.name.find("Mmba") == std::string::npos) {
            continue;
        }
        ++marimbas;
        const auto reading = read_by_program(write_with_room(bar, k_scratch), "40:6000");
        const double hz = check_fundamental(reading, bar);
        check_partial(reading, hz, 4.0, 0.02);
        check_partial(reading, hz, 10.0, 0.02);
    }
    CHECK(marimbas == 4);
}

TEST_CASE("freepats' glockenspiel: fundamentals to 3 cents") {
    const auto bars = read_patch(k_freepats / "009_Glockenspiel.pat");
    CHECK(bars.size() == 5);
    for (const Bar& bar : bars) {
        const auto reading = read_by_program(write_with_room(bar, k_scratch), "100:10000");
        check_fundamental(reading, bar);
    }
}

TEST_CASE("freepats' lowest glockenspiel bar: partials of a thick uniform bar") {
    // A slender uniform bar with free ends has 1 : 2.757 : 5.404 (Rayleigh, Theory of Sound, §
    // 170); shear and rotary inertia lower the upper ones (Timoshenko 1921), so a real, thick bar
    // lies below by a few hundredths. Measured once on this sample by a long
    // transform: 2.710, 5.252.
    const auto bar = read_patch(k_freepats / "009_Glockenspiel.pat").front();
    const auto reading = read_by_program(write_with_room(bar, k_scratch), "100:10000");
    const double hz = check_fundamental(reading, bar);
    check_partial(reading, hz, 2.710, 0.003);
    check_partial(reading, hz, 5.252, 0.003);
}

TEST_CASE("freepats' wooden xylophone: fundamentals to 3 cents") {
    // Of the xylophone samples those whose transform has one clear peak: the others are of two bars
    // or microphones, with two lines a few cents apart. Their names are off by octaves, so the root
    // frequency in the header is the label.
    int checked = 0;
    for (const Bar& bar : read_patch(k_freepats / "013_Xylophone.pat")) {
        if (bar.name == "Xylo C3" || bar.name == "Xylo G#" || bar.name == "Xylo A4") {
            ++checked;
            const auto reading = read_by_program(write_with_room(bar, k_scratch), "100:8000");
            check_fundamental(reading, bar);
        }
    }
    CHECK(checked == 3);
}

TEST_CASE("freepats' bars as they are cut, right at the strike: fundamentals to 3 cents") {
    int checked = 0;
    for (const Bar& bar : read_patch(k_freepats / "013_Xylophone.pat")) {
        if (bar.name.find("Mmba") == std::string::npos && bar.name != "Xylo C3" &&
            bar.name != "Xylo G#" && bar.name != "Xylo A4")
            continue; // of two bars or microphones: two lines a few cents apart
        ++checked;
        const auto reading = read_by_program(write_as_cut(bar, k_scratch / "cut"), "40:8000");
        check_fundamental(reading, bar);
    }
    CHECK(checked == 7);
    for (const Bar& bar : read_patch(k_freepats / "009_Glockenspiel.pat"))
        check_fundamental(read_by_program(write_as_cut(bar, k_scratch / "cut"), "100:10000"), bar);
}
