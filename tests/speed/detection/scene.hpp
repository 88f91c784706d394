#pragma once
#include "speed/detection/sounds.hpp"
#include "taps/tap.hpp"

#include <optional>
#include <vector>

namespace detection {

/// Some minutes at the bench, with the truth.
struct Scene {
    std::vector<float> sound;       ///< full scale ±1, k_rate_hz
    std::vector<double> strikes_s;  ///< first touch of every strike
    std::vector<double> stirs_s;    ///< where each disturbance begins
    std::vector<Disturbance> kinds; ///< of each disturbance
};

struct SceneParams {
    double seconds = 60;
    std::optional<double> level_db; ///< of the strikes: loudest 20 ms over the floor's RMS, in the
                                    ///< band; none: no strikes
    double disturbed = 0.4;         ///< share of the gaps between strikes in which something sounds
    double floor_dbfs = -60;        ///< RMS of the steady room in the band
};

/// Strikes lie 1.1 to 2.4 s apart (cello: 2.2 to 3.5 s). A disturbance, 10 to 50 dB over the floor,
/// has sunk into the floor 0.3 to 0.8 s before the next strike begins: a strike that something else
/// sounds into is rightly refused, so it can't tell a good detector from a bad one.
Scene make_scene(Family family, const SceneParams& params, const Speakers& speakers,
                 std::uint64_t seed);

/// What the program made of some scenes.
struct Score {
    int strikes = 0, hit = 0, wrong = 0;
    std::vector<double> late_ms; ///< found onset less true one, of the hits

    /// Pairs each strike with the nearest found onset within 50 ms, as is usual for onsets (MIREX,
    /// from memory).
    void add(const Scene& scene, const std::vector<double>& found_s);
    double recall() const;
    double precision() const;
    double f_measure() const;
};

/// All taps with their last verdicts, the fit's and the session's among them; without their
/// samples.
std::vector<platewright::taps::Tap> detect(const std::vector<float>& sound);

/// Onsets of the accepted taps, in seconds.
std::vector<double> accepted(const std::vector<platewright::taps::Tap>& taps);

} // namespace detection
