#pragma once
#include "trends/track/strand.hpp"

#include <cstddef>
#include <span>
#include <vector>

namespace platewright::trends {

/// Which strand goes on with which mode of a session.
struct Pairing {
    std::vector<std::size_t> mode_of_strand; ///< k_no_mode where it was not found
    double common_ratio = 1.0;               ///< by which all modes moved beyond what was foreseen
};
inline constexpr std::size_t k_no_mode = static_cast<std::size_t>(-1);

/// The cheapest assignment within gates, by frequency as foreseen, damping, spots, and names: a
/// number that the maker gave goes on with that number whatever else speaks against it, a name
/// found with confidence weighs and reaches farther than frequency alone. The session's conditions
/// are corrected by what all modes have in common: how far the plate had settled to its air.
/// Threads: pure.
Pairing pair_with(std::span<const Strand> strands, const ledger::PlateHistory& history,
                  std::span<Conditions> conditions, std::size_t session);

} // namespace platewright::trends
