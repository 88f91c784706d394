#pragma once
#include "modes/partial.hpp"

#include <span>

namespace platewright::modes {

/// How many of a tap's strong partials lie where another tap's do.
struct Agreement {
    int strong = 0; ///< partials looked at: the strongest, within a range of level
    int shared = 0; ///< of these, with a partial of some other tap at the same frequency
};
Agreement agreement(std::span<const std::span<const Partial>> others, std::span<const Partial> tap);

/// Whether a tap rings like none of the others: less than a third of its strong partials are
/// shared. A plate's modes are heard at every spot, if unequally loud; over the demo workshop's
/// sessions taps of one plate share 7 of 8 or more with the two before them, taps of two plates 3
/// of 8 at most (tests/modes/stranger_test.cpp). Never with fewer than two others: one tap may be
/// the stranger itself.
bool rings_like_none_of(std::span<const std::span<const Partial>> others,
                        std::span<const Partial> tap);

/// Whether what carries a tap's sound rings longer than wood can: a glass, a cup, a bell, a string,
/// a ruler. Of spruce and maple tan delta is 0.005 at the least (along the grain; D. W. Haines, On
/// musical instrument wood, Catgut Acoust. Soc. Newsl. 31, 1979, from memory), which is a Q of 200.
bool outrings_wood(std::span<const Partial> tap);

} // namespace platewright::modes
