#pragma once
#include "taps/tap.hpp"

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <vector>

namespace platewright::taps {

/// How strikes are found. Defaults hold for a plate tapped a hand's breadth to half a metre away.
struct DetectorParams {
    double low_hz = 40; ///< band in which a strike must stand out
    double high_hz = 2500;
    double rise_db = 15;      ///< above the room's noise, for a strike to be looked at; 10..30
    double pre_roll_s = 0.25; ///< kept before the strike: the room, for the noise's spectrum
    double longest_s = 2.0;   ///< kept after the strike at the most
    double shortest_s = 0.15; ///< rings shorter than this are too short to fit
    double settle_s = 0.35;   ///< quiet owed before a strike, and length of the first reading
};

/// Finds strikes in a stream of samples, given block by block; the answer does not depend on the
/// blocks' sizes. Memory does not grow with the stream.
/// In:   samples, full scale ±1, at sample_rate_hz (8 000 to 400 000).
/// Out:  each strike once, when it has rung out, was struck again, or reached longest_s; in order.
/// Threads: one owner; not RT.
class Detector {
public:
    Detector(double sample_rate_hz, const DetectorParams& params = {});
    ~Detector();
    Detector(Detector&&) noexcept;
    Detector& operator=(Detector&&) noexcept;

    /// Takes the next samples; gives the taps that ended within them.
    std::vector<Tap> push(std::span<const float> samples);

    /// Samples were lost here: the tap that was ringing, if any, refused as such.
    std::vector<Tap> gap(std::int64_t lost_frames);

    /// The stream ended: gives the tap still ringing, if any.
    std::vector<Tap> finish();

    /// How long the tap now ringing has rung, in seconds; 0 while none rings.
    double ringing_s() const;
    /// The tap now ringing, as far as it has come (for a first reading while it rings); nothing
    /// while none rings. Its verdict is provisional. Costs as much as judging a whole tap.
    std::optional<Tap> ringing() const;

    /// RMS of the room within the band, in dBFS.
    double noise_dbfs() const;

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace platewright::taps
