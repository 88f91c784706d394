#include "modes/ring/recognised.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

namespace platewright::modes {
namespace {

constexpr std::size_t k_partials_weighed = 6;
constexpr double k_weighed_db = -20; // of the tap's strongest: weaker ones lie everywhere
constexpr double k_hold = 0.003;     // relative; re-hung, a plate repeats to half a percent, left
                                     // hanging to a tenth (common practice, no source)
constexpr double k_new = 0.3; // share of a plate's partials that no other tap showed: weak at their
                              // spots, or merged with a neighbour
constexpr double k_anywhere =
    0.25; // density of ln f for anything else: 40 to 2500 Hz is e^4.1 wide
constexpr std::size_t k_least_known = 2;
// Of all that counts or may be a ring: two thumps taken for rings tell nothing of a workshop's
// hundred other sounds.
constexpr double k_share_known = 0.2;
constexpr double k_recognised_log_odds = 2; // seven to one: a bench gives foreign sounds, and of
                                            // 1800 of them none passed this, five passed even odds
// Of the taps of different plates one pair in a hundred is as alike (docs/detection-results.md).
constexpr double k_alike_log_odds = 4;
constexpr double k_least_alike = 2; // others,
constexpr double k_share_alike =
    0.15; // and of all in question, lest a long noise has some by chance

double density(std::span<const Partial> other, const Partial& one) {
    double sum = 0;
    for (const Partial& known : other) {
        const double sd =
            std::sqrt(std::pow(known.frequency_sd_hz / known.frequency_hz, 2) +
                      std::pow(one.frequency_sd_hz / one.frequency_hz, 2) + k_hold * k_hold);
        const double z = std::log(one.frequency_hz / known.frequency_hz) / sd;
        sum += std::exp(-z * z / 2) / (sd * std::sqrt(2 * std::numbers::pi));
    }
    return other.empty() ? k_anywhere : sum / static_cast<double>(other.size());
}

} // namespace

double likeness(std::span<const std::span<const Partial>> others, std::span<const Partial> tap) {
    if (others.empty())
        return 0;
    std::vector<Partial> strongest(tap.begin(), tap.end());
    std::erase_if(strongest, [](const Partial& one) { return one.level_db < k_weighed_db; });
    std::sort(strongest.begin(), strongest.end(),
              [](const Partial& a, const Partial& b) { return a.level_db > b.level_db; });
    strongest.resize(std::min(strongest.size(), k_partials_weighed));
    double sum = 0;
    for (const Partial& one : strongest) {
        double mean = 0;
        for (const auto& other : others)
            mean += density(other, one) / static_cast<double>(others.size());
        sum += std::log(k_new + (1 - k_new) * mean / k_anywhere);
    }
    return sum;
}

bool is_recognised(const RingEvidence& evidence, std::span<const Partial> tap,
                   std::span<const std::span<const Partial>> others, std::size_t in_question) {
    return others.size() >= k_least_known &&
           static_cast<double>(others.size()) >= k_share_known * static_cast<double>(in_question) &&
           may_be_ring(evidence) &&
           ring_log_odds(evidence) + likeness(others, tap) > k_recognised_log_odds;
}

namespace {

/// Which of them ring like others that need not ring clearly either.
std::vector<std::size_t> alike(std::span<const JudgedRing> taps) {
    std::vector<std::size_t> in_question, found;
    for (std::size_t i = 0; i < taps.size(); ++i)
        if (may_be_ring(taps[i].evidence) && rings_on(taps[i].evidence))
            in_question.push_back(i);
    const auto like = [&taps](std::size_t a, std::size_t b) {
        return likeness(std::array{taps[a].partials}, taps[b].partials) > k_alike_log_odds;
    };
    std::vector<std::size_t> others(in_question.size());
    for (std::size_t i = 0; i < in_question.size(); ++i)
        for (std::size_t k = i + 1; k < in_question.size(); ++k)
            if (like(in_question[i], in_question[k]) && like(in_question[k], in_question[i])) {
                ++others[i];
                ++others[k];
            }
    const double least =
        std::max(k_least_alike, k_share_alike * static_cast<double>(in_question.size()));
    for (std::size_t i = 0; i < in_question.size(); ++i)
        if (static_cast<double>(others[i]) >= least)
            found.push_back(in_question[i]);
    return found;
}

} // namespace

std::vector<std::size_t> recognise(std::span<JudgedRing> taps) {
    std::vector<std::size_t> recognised;
    if (std::ranges::all_of(taps, &JudgedRing::counts))
        return recognised; // nothing to ask, after most taps
    const auto count = [&](std::size_t i) {
        taps[i].counts = true;
        recognised.push_back(i);
    };
    for (const std::size_t i : alike(taps))
        if (!taps[i].counts)
            count(i);
    for (bool again = true; again;) { // who is recognised helps to know others
        again = false;
        std::vector<std::span<const Partial>> known;
        for (const JudgedRing& tap : taps)
            if (tap.counts)
                known.push_back(tap.partials);
        for (std::size_t i = 0; i < taps.size(); ++i)
            if (!taps[i].counts &&
                is_recognised(taps[i].evidence, taps[i].partials, known, taps.size())) {
                count(i);
                again = true;
            }
    }
    return recognised;
}

} // namespace platewright::modes
