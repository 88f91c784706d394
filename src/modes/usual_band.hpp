#pragma once
#include "modes/subject.hpp"

namespace platewright::modes {

/// Where a part's modes are looked for unless the maker says otherwise.
struct UsualBand {
    bool operator==(const UsualBand&) const = default;
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

/// What the maker chose in its place, Hz; 0: as usual.
struct BandChoice {
    bool operator==(const BandChoice&) const = default;
    double low_hz = 0;
    double high_hz = 0;
};

/// The usual one with what was chosen put in; a choice that leaves less than an octave is none.
constexpr UsualBand band_of(InstrumentKind kind, Part part, const BandChoice& choice) {
    const UsualBand usual = usual_band(kind, part);
    const UsualBand band{.low_hz = choice.low_hz > 0 ? choice.low_hz : usual.low_hz,
                         .high_hz = choice.high_hz > 0 ? choice.high_hz : usual.high_hz};
    return band.high_hz < 2 * band.low_hz ? usual : band;
}

} // namespace platewright::modes
