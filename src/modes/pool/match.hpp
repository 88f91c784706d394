#pragma once
#include "modes/mode.hpp"

#include <cstddef>
#include <span>
#include <utility>
#include <vector>

namespace platewright::modes {

struct MatchGates {
    double frequency_ratio = 0.06; ///< |f_b/f_a − expected| allowed, as a share of frequency
    double expected_ratio = 1.0;   ///< f_b/f_a where nothing else is known (mass change, humidity)
    double log_q = 0.8;            ///< |ln(Q_b/Q_a)| allowed
};

/// One pairing; `cost` 0 is perfect, 1 at a gate.
struct Pair {
    std::size_t a = 0, b = 0;
    double cost = 0;
};

/// What a pairing beyond a gate costs.
inline constexpr double k_impossible_match = 1e6;

/// The cost of one pairing: 0 for the same mode, 1 at a gate, k_impossible_match beyond one.
double match_cost(const Mode& a, const Mode& b, const MatchGates& gates);

/// Pairs modes of one set with those of another, each at most once, by least total cost of
/// frequency, damping and spot profile, within gates (assignment; unmatched costs 1 a side).
std::vector<Pair> match(std::span<const Mode> a, std::span<const Mode> b,
                        const MatchGates& gates = {});

} // namespace platewright::modes
