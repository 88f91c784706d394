#pragma once
#include "ledger/record.hpp"

#include <cstddef>
#include <string>

namespace platewright::trends {

/// Why a session's figures are not fit to be compared with another session's, in one sentence: no
/// modes yet, too few taps, or taps that differ too widely (over 1 % in the median over its modes;
/// re-hung and re-tapped, a plate repeats to about half a percent: common practice, no source).
/// Empty when they are. `whose` settles what the sentence calls it. Pure.
enum class Whose { this_session, reference };
std::string unfit_to_compare(const ledger::SessionHistory& session, Whose whose);

/// Why this accepted tap stands apart from the session's others: the mode whose frequency it has
/// furthest off, and by how much. Empty where it has no mode apart. `tap`: index into the session's
/// taps. Pure.
std::string why_apart(const ledger::SessionHistory& session, std::size_t tap);

} // namespace platewright::trends
