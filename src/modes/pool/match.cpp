#include "modes/pool/match.hpp"

#include "modes/pool/assignment.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace platewright::modes {
namespace {

constexpr double k_profile_gate_db = 20.0; // root mean square over the spots both were struck at
constexpr double k_weight_q = 0.25;        // shares of the square of the cost
constexpr double k_weight_profile = 0.25;

/// Root mean square difference of the profiles in dB, each about its own mean so that a spot only
/// one of the two knows makes no difference; nothing with fewer than two spots in common.
double profile_distance(const Mode& a, const Mode& b) {
    std::vector<double> differences;
    for (const SpotLevel& one : a.spots) {
        const auto same = std::find_if(b.spots.begin(), b.spots.end(), [&](const SpotLevel& other) {
            return other.spot == one.spot && one.spot != taps::Spot::unknown;
        });
        if (same != b.spots.end())
            differences.push_back(one.level_db - same->level_db);
    }
    if (differences.size() < 2)
        return 0.0;
    double mean = 0.0;
    for (double d : differences)
        mean += d / static_cast<double>(differences.size());
    double square = 0.0;
    for (double d : differences)
        square += (d - mean) * (d - mean);
    return std::sqrt(square / static_cast<double>(differences.size()));
}

} // namespace

double match_cost(const Mode& a, const Mode& b, const MatchGates& gates) {
    const double shift = b.frequency_hz / a.frequency_hz / gates.expected_ratio - 1.0;
    const double frequency = std::abs(shift) / gates.frequency_ratio;
    const double damping = std::abs(std::log(b.q / a.q)) / gates.log_q;
    const double profile = profile_distance(a, b) / k_profile_gate_db;
    if (frequency > 1.0 || damping > 1.0 || profile > 1.0)
        return k_impossible_match;
    const double rest = 1.0 - k_weight_q - k_weight_profile;
    return std::sqrt(rest * frequency * frequency + k_weight_q * damping * damping +
                     k_weight_profile * profile * profile);
}

std::vector<Pair> match(std::span<const Mode> a, std::span<const Mode> b, const MatchGates& gates) {
    if (!(gates.frequency_ratio > 0) || !(gates.expected_ratio > 0) || !(gates.log_q > 0)) {
        throw std::invalid_argument("match needs gates above zero");
    }
    Eigen::MatrixXd cost(static_cast<Eigen::Index>(a.size()), static_cast<Eigen::Index>(b.size()));
    for (Eigen::Index r = 0; r < cost.rows(); ++r) {
        for (Eigen::Index c = 0; c < cost.cols(); ++c) {
            cost(r, c) =
                match_cost(a[static_cast<std::size_t>(r)], b[static_cast<std::size_t>(c)], gates);
        }
    }
    std::vector<Pair> pairs;
    if (a.empty() || b.empty())
        return pairs;
    const std::vector<long> columns = pair_or_leave(cost, 1.0);
    for (std::size_t i = 0; i < a.size(); ++i) {
        if (columns[i] < 0)
            continue;
        const double paid = cost(static_cast<Eigen::Index>(i), columns[i]);
        if (paid < k_impossible_match)
            pairs.push_back({i, static_cast<std::size_t>(columns[i]), paid});
    }
    return pairs;
}

} // namespace platewright::modes
