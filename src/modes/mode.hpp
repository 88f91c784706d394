#pragma once
#include "taps/spot.hpp"

#include <optional>
#include <string>
#include <vector>

namespace platewright::modes {

/// How strongly a mode answered at one spot: mean over the spot's taps, relative to the mode's
/// strongest spot (0 dB), each tap first set against its own strongest partial.
struct SpotLevel {
    bool operator==(const SpotLevel&) const = default;
    taps::Spot spot = taps::Spot::unknown;
    double level_db = 0;
    double level_sd_db = 0;
    int taps = 0;
};

/// A vibration of the plate, pooled over a session's accepted taps.
struct Mode {
    bool operator==(const Mode&) const = default;
    double frequency_hz = 0;
    double frequency_sd_hz = 0; ///< of the pooled value: fit and tap-to-tap spread together
    double spread_hz = 0;       ///< standard deviation from tap to tap; 0 for a single tap
    double q = 0;
    double q_sd = 0;
    double level_db = 0; ///< relative to the strongest mode of the list, ≤ 0
    int taps = 0;        ///< in how many taps it was found
    std::vector<SpotLevel> spots;
};

/// The number the trade calls a mode by: 1 (twist), 2 (X), 5 (ring), others by number.
struct ModeName {
    bool operator==(const ModeName&) const = default;
    int number = 0;
    double confidence = 0; ///< 0..1; 1 only where the maker said so
    bool by_maker = false;
};

/// A closed body's low modes have no numbers in the trade; these stand for them wherever a number
/// is kept: the air mode, the rhomboid of the middle bouts, the two lowest that bend the corpus.
inline constexpr int k_a0 = 101;
inline constexpr int k_cbr = 102;
inline constexpr int k_b1_minus = 103;
inline constexpr int k_b1_plus = 104;

/// "mode 5 (ring)", "mode 3", "A0", "B1−".
std::string mode_text(int number);
/// "mode 5", "B1\u2212": what stands beside a mode where there is little room.
std::string short_mode_text(int number);

struct NamedMode {
    bool operator==(const NamedMode&) const = default;
    Mode mode;
    std::optional<ModeName> name; ///< nothing where the evidence is not enough
};

} // namespace platewright::modes
