#pragma once
#include "modes/estimate/damped_model.hpp"
#include "modes/partial.hpp"
#include "modes/signal/channel.hpp"
#include "modes/signal/whitener.hpp"
#include "taps/tap.hpp"

#include <optional>
#include <vector>

namespace platewright::modes {

/// A tap's part of the band, ready to be fitted: decimated, whitened by what the pre-roll says of
/// the room, cut to where something rings.
struct PreparedChannel {
    ChannelPlan plan;
    Whitener whitener;
    Stretches white;              ///< noise of variance one
    std::vector<double> contact;  ///< between the two: the hammer on the wood
    std::vector<Component> lines; ///< steady ones, amplitudes at the ring's first sample
    double rate_hz = 0;           ///< of the channel
    double recording_rate_hz = 0;
    double origin_s = 0; ///< from the strike to the channel's sample 0
    long ring_first = 0; ///< the ring's first sample, counted in the channel from there
};

/// Nothing when what is left of the ring is too short to fit (64 channel samples).
std::optional<PreparedChannel> prepare(const taps::Tap& tap, const ChannelPlan& plan,
                                       double skip_s);

/// The residual's power around a frequency, as a share of what the whitener made of the noise: a
/// fit's deviations are scaled by it, so that noise the pre-roll did not tell of still counts.
class LocalNoise {
public:
    /// residual: the ring's samples less the fit.
    LocalNoise(const std::vector<double>& residual, const DampedFit& fit);
    double variance_at(double angle) const; ///< > 0

private:
    double mean_around(double angle, double degrees) const;
    std::vector<double> power_;  // mean one for white noise of variance one
    std::vector<double> angles_; // of the fitted components
    double step_ = 0;            // radians a sample between bins
    double padding_ = 1;         // bins a degree of resolution
};

struct Estimate {
    Partial partial;     ///< level_db not set: it needs the others
    double decay = 0;    ///< 1/s
    double decay_sd = 0; ///< 1/s
    double twin = 0;     ///< its pole's way to that of either of two it may stand for, 1/s
};

/// A component in the maker's units, with deviations; a neighbour too near to be another mode
/// widens the frequency's.
Estimate estimate(const PreparedChannel& channel, const DampedFit& fit, std::size_t i,
                  const LocalNoise& noise);

/// Sorts by frequency, sets level_db (skip_s after the strike), drops what is weaker than floor_db
/// below the strongest, and satellites: weak neighbours within a strong partial's own width, which
/// say only that its decay is not quite exponential.
void keep_reportable(std::vector<Partial>& partials, double floor_db, double skip_s);

} // namespace platewright::modes
