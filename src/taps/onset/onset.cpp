#include "taps/onset/onset.hpp"

#include "taps/judge/prediction.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

namespace platewright::taps {

std::size_t pick_onset(std::span<const float> samples) {
    constexpr double quietest = 1e-14; // digital silence: the logarithm stays finite
    const std::size_t count = samples.size();
    double total = 0;
    for (const float x : samples)
        total += static_cast<double>(x) * static_cast<double>(x);
    double before = 0, best = std::numeric_limits<double>::infinity();
    std::size_t at = 0;
    for (std::size_t k = 1; k + 4 < count; ++k) {
        before += static_cast<double>(samples[k - 1]) * static_cast<double>(samples[k - 1]);
        if (k < 4)
            continue;
        const double left = static_cast<double>(k), right = static_cast<double>(count - k);
        const double aic = left * std::log(before / left + quietest) +
                           right * std::log((total - before) / right + quietest);
        if (aic < best) {
            best = aic;
            at = k;
        }
    }
    return at;
}

namespace {

double energy(std::span<const double> values) {
    double sum = 0;
    for (const double x : values)
        sum += x * x;
    return sum;
}

/// The first of the pieces, each a sample after the last, that has a hundredth of the loudest one's
/// energy: the strike begins in it or later. A strike is there within two milliseconds. What sounds
/// before and is weaker still was spread ahead of it by a lossy codec, whose noise fills a block of
/// some 20 ms, or is the hand.
std::size_t first_of_note(std::span<const float> samples, std::size_t piece) {
    constexpr double of_note = 0.01;
    if (samples.size() <= piece)
        return 0;
    std::vector<double> energies;
    double sum = 0;
    for (std::size_t n = 0; n < samples.size(); ++n) {
        sum += static_cast<double>(samples[n]) * static_cast<double>(samples[n]);
        if (n + 1 < piece)
            continue;
        energies.push_back(sum);
        const auto oldest = static_cast<double>(samples[n + 1 - piece]);
        sum = std::max(0.0, sum - oldest * oldest);
    }
    const double loudest = *std::ranges::max_element(energies);
    return static_cast<std::size_t>(
        std::ranges::find_if(energies, [loudest](double e) { return e >= of_note * loudest; }) -
        energies.begin());
}

} // namespace

std::size_t refine_onset(std::span<const float> samples, std::size_t rough, double sample_rate_hz) {
    constexpr std::size_t order = 40;
    constexpr double learnt_s = 0.2, least_learnt_s = 0.02, later_s = 0.001, piece_s = 0.002;
    const auto frames = [sample_rate_hz](double seconds) {
        return static_cast<std::size_t>(seconds * sample_rate_hz);
    };
    const std::size_t end = rough + frames(k_refined_after_s);
    if (rough < frames(k_refined_before_s + least_learnt_s) + order || end > samples.size())
        return rough;
    const std::size_t from = rough - frames(k_refined_before_s),
                      learnt = std::min(from, frames(learnt_s));
    const auto room = samples.subspan(from - learnt, learnt);
    const auto predictor = burg(room, order);
    constexpr double quietest = 1e-16; // digital silence: the logarithm stays finite
    double usual =
        energy(innovation(room, predictor)) / static_cast<double>(learnt - order) + quietest;
    const auto all = innovation(samples.subspan(from - order, end - from + order), predictor);
    const auto novel = std::span{all}.subspan(order);
    // Softly it may have begun two milliseconds before it is of note.
    const std::size_t piece = frames(piece_s);
    const std::size_t of_note = first_of_note(samples.subspan(from, end - from), piece);
    const std::size_t first = of_note - std::min(of_note, piece);
    if (first > piece)
        usual = std::max(usual,
                         energy(novel.subspan(first - piece, piece)) / static_cast<double>(piece));
    double before = energy(novel.first(first)), after = energy(novel) - before;
    double best = std::numeric_limits<double>::infinity();
    const std::size_t last = std::max(rough - from, of_note + piece) + frames(later_s);
    std::size_t at = first;
    for (std::size_t k = first; k + frames(later_s) < novel.size() && k <= last; ++k) {
        const double right = static_cast<double>(novel.size() - k);
        const double aic = static_cast<double>(k) * std::log(usual) + before / usual +
                           right * (std::log(after / right + quietest) + 1);
        if (aic < best) {
            best = aic;
            at = k;
        }
        before += novel[k] * novel[k];
        after -= novel[k] * novel[k];
    }
    return from + at;
}

} // namespace platewright::taps
