#include "bench/session/guide.hpp"

namespace platewright::bench {

using taps::Spot;

int mode_sought(Spot spot) {
    switch (spot) {
    case Spot::centre:
        return 5;
    case Spot::upper_end:
    case Spot::lower_end:
        return 2;
    case Spot::upper_bout_left:
    case Spot::upper_bout_right:
    case Spot::lower_bout_left:
    case Spot::lower_bout_right:
        return 1;
    case Spot::waist_left:
    case Spot::waist_right:
    case Spot::bridge_bass: // a closed body's own modes are another matter
    case Spot::bridge_treble:
    case Spot::unknown:
        break;
    }
    return 0;
}

Spot next_sought(Spot spot) {
    switch (mode_sought(spot)) {
    case 5:
        return Spot::upper_end;
    case 2:
        return Spot::lower_bout_right;
    default:
        return Spot::unknown;
    }
}

} // namespace platewright::bench
