#pragma once
#include "bench/snapshot.hpp"
#include "plot/drift.hpp"
#include "plot/spectrum.hpp"

#include <span>
#include <string>

namespace platewright::screen {

/// From what the bench computed to what the charts draw; used by the window and, for charts written
/// to files, by the command line. No Dear ImGui here. Pure.

/// Frequencies worth seeing for a kind of instrument: from under its mode 1 to well over its
/// mode 5.
struct Band {
    double low_hz = 0.0;
    double high_hz = 0.0;
};
Band band_of(modes::InstrumentKind kind);

/// The last tap over the session's mean, earlier sessions as ghosts; each spectrum relative to its
/// own strongest level within the band, so that a soft tap lies on a hard one.
plot::SpectrumPicture spectrum_picture(const bench::PlateView& plate, bool logarithmic = false);

/// The plate over its reference, each relative to its own strongest level within the band.
plot::BesidePicture beside_picture(const bench::PlateView& plate, bool logarithmic = false);

/// A tap as heard, its fit, and what the fit leaves over; levels in dBFS.
plot::SpectrumPicture study_picture(const bench::TapStudy& study, modes::InstrumentKind kind,
                                    bool logarithmic);

/// The tracks of a plate with their goals, and forecasts for the next grams (95 %) where there are
/// any; by mass where two sessions have one. `comparison` gives the reference's frequencies; null
/// for none.
plot::DriftPicture drift_picture(const ledger::PlateHistory& history,
                                 const trends::PlateReport& report,
                                 const trends::Comparison* comparison);

} // namespace platewright::screen
