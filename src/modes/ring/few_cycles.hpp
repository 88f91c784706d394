#pragma once

namespace platewright::modes {

/// Q below which what sounds is gone in a few cycles: the hammer's thump, or the hand's, is as
/// likely as a mode of the wood (fitted with the ring test's weights, ring_test.cpp).
inline constexpr double k_few_cycles_q = 9;

} // namespace platewright::modes
