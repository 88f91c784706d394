#pragma once
#include "modes/subject.hpp"

namespace platewright::modes {

/// Where a part's modes are looked for unless the maker says otherwise.
struct UsualBand {
    double low_hz = 40;
    double high_hz = 2500;
};

/// The lowest mode decides the lower end: free violin plates have mode 1 near 90 Hz, a viola's near
/// 65, a cello's near 30 to 45, a double bass's near 15 to 30 (common practice, no source: a
/// plate's frequencies go with its thickness over its length squared). A closed body sounds from
/// its air mode on: near 270, 220, 100 and 60 Hz.
constexpr UsualBand usual_band(InstrumentKind kind, Part part) {
    const bool is_large = kind != InstrumentKind::violin && kind != InstrumentKind::viola;
    return {.low_hz = is_large && part != Part::body ? 15.0 : 40.0};
}

} // namespace platewright::modes
