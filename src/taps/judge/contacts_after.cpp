#include "taps/judge/contacts_after.hpp"

#include "base/stats.hpp"
#include "taps/judge/prediction.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <span>
#include <utility>
#include <vector>

namespace platewright::taps {
namespace {

constexpr int k_burg_order = 48;
constexpr double k_step_s = 0.003, k_after_s = 0.015;
constexpr double k_weaker = 0.0025;  // of the first strike's energy: -26 dB, too weak to matter
constexpr double k_unforeseen = 4.0; // times the usual innovation of this ring
constexpr double k_leap = 4.0;       // times the two steps before: a real strike's own tail is not
                                     // foreseen either, but it only dies away
constexpr int k_many =
    4; // what leaps up again and again is no strike at all, and the fit's to refuse

// What tells a voice, set on speech 20 to 30 dB under taps and on second contacts of one seed
// (speed_rings, 700); docs/detection-results.md says what they do on others, and
// tests/taps/contacts_after_test.cpp fails where one is ten times as large or as small.
constexpr double k_voice_s = 0.039;  // three pulses of the deepest voice, 75 Hz or so
constexpr double k_rises = 2.5;      // times the least since the pulse before
constexpr double k_as_strong = 0.16; // of the leap: -8 dB
constexpr int k_pulses = 2;          // after the leap: a bouncing hammer comes down once
constexpr double k_louder = 2;       // than the loudest of what sounded before the strike
constexpr double k_ahead_s = 0.025;  // what a lossy codec spreads ahead of the strike is no voice

/// What the ring's predictor could not foresee, step by step.
struct Unforeseen {
    double before = 0;         ///< the loudest step of what sounded before the strike
    double strike = 0;         ///< all of the strike
    std::vector<double> after; ///< from k_after_s on; empty where there is too little
};

Unforeseen unforeseen_in(const Cut& cut, const DetectorParams& params) {
    const double rate = cut.tap.sample_rate_hz;
    const auto every =
        static_cast<std::size_t>(std::max(1.0, std::floor(rate / (4 * params.high_hz))));
    // Aliasing does no harm: an aliased decaying sinusoid is as well foreseen as any other.
    std::vector<float> thinned;
    for (std::size_t i = cut.tap.onset_index % every; i < cut.in_band.size(); i += every)
        thinned.push_back(cut.in_band[i]);
    const auto steps_in = [&](double seconds) {
        return static_cast<std::size_t>(seconds * rate / static_cast<double>(every));
    };
    const std::size_t step = std::max<std::size_t>(1, steps_in(k_step_s));
    const std::size_t onset = cut.tap.onset_index / every;
    const std::size_t start = onset + static_cast<std::size_t>(k_after_s / k_step_s) * step;
    Unforeseen found;
    if (thinned.size() < start + 4 * k_burg_order)
        return found;
    const auto left = innovation(thinned, burg(std::span{thinned}.subspan(start), k_burg_order));
    const auto energy = [&](std::size_t from, std::size_t to) {
        double sum = 0;
        for (std::size_t i = from; i < to; ++i)
            sum += left[i] * left[i];
        return sum;
    };
    for (std::size_t at = k_burg_order; at + step + steps_in(k_ahead_s) <= onset; at += step)
        found.before = std::max(found.before, energy(at, at + step));
    found.strike = energy(onset - std::min(onset, steps_in(0.02)), start);
    for (std::size_t at = start; at + step <= left.size(); at += step)
        found.after.push_back(energy(at, at + step));
    return found;
}

/// Whether what leapt up at `at` comes again, and again, nearly as strong, as a voice's pulses do
/// and its hiss, or may do so: the sound ends before that can be told, as where a recording is cut.
/// A contact dies away.
bool may_go_on(const std::vector<double>& after, std::size_t at) {
    const std::size_t end = at + 1 + static_cast<std::size_t>(k_voice_s / k_step_s);
    if (end > after.size())
        return true;
    double least = after[at];
    int pulses = 0;
    for (std::size_t k = at + 1; k < end; ++k) {
        const bool is_crest = k + 1 == after.size() || after[k] >= after[k + 1];
        if (is_crest && after[k] > k_rises * least && after[k] > k_as_strong * after[at]) {
            ++pulses;
            least = after[k];
        }
        least = std::min(least, after[k]);
    }
    return pulses >= k_pulses;
}

} // namespace

int contacts_after(const Cut& cut, const DetectorParams& params) {
    const Unforeseen found = unforeseen_in(cut, params);
    if (found.after.empty())
        return 0;
    const double usual = base::median(found.after);
    int contacts = 0, leaps = 0;
    bool was_struck = false;
    double one_before = found.strike, two_before = found.strike;
    for (std::size_t k = 0; k < found.after.size(); ++k) {
        const double e = found.after[k];
        const bool struck = e > k_unforeseen * usual && e > k_weaker * found.strike &&
                            e > k_leap * std::max(one_before, two_before);
        if (struck && !was_struck) {
            ++leaps;
            contacts += e > k_louder * found.before && !may_go_on(found.after, k) ? 1 : 0;
        }
        was_struck = struck;
        two_before = std::exchange(one_before, e);
    }
    return leaps < k_many ? contacts : 0;
}

} // namespace platewright::taps
