#pragma once
#include "modes/partial.hpp"
#include "modes/pool/pool.hpp"

#include <cstddef>
#include <span>
#include <vector>

namespace platewright::modes {

/// The partials of a session's taps, one a tap at the most, that are one mode.
struct Family {
    double frequency_hz = 0;             ///< median of its members
    std::vector<const Partial*> members; ///< by tap, into the taps given; null where not found
};

/// Sorts the taps' partials into families by assignment within what the hold moves a mode;
/// ascending frequency. The taps must outlive the answer. Pure.
std::vector<Family> families_of(std::span<const FittedTap> taps);

/// In how many taps.
std::size_t found_in(const Family& family);

} // namespace platewright::modes
