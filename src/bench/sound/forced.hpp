#pragma once
#include "bench/sound/listening.hpp"
#include "modes/name/name.hpp"
#include "modes/signal/response.hpp"

#include <array>
#include <map>
#include <optional>
#include <span>
#include <vector>

namespace platewright::bench {

/// How a plate answers a hammer whose force is told, from the strikes at one spot.
struct ForcedAnswer {
    taps::Spot spot = taps::Spot::unknown;
    double newton = 0; ///< at full scale; 0: not known, and h1 is then full scale to full scale
    int strikes = 0;   ///< that count
    int no_force = 0, clipped = 0, pushed_twice = 0; ///< that don't
    double driven_to_hz = 0;                         ///< beyond it nothing is told
    struct AtMode : modes::Response::Reading {
        int number = 0; ///< 0: it bears no name
        double frequency_hz = 0;
    };
    std::vector<AtMode> modes; ///< those that the force drives, ascending
};

/// The responses of a session: from its accepted taps as they come, or as they were kept.
/// Threads: one. Cost: two transforms of 2 s a tap; memory does not grow with taps.
class Forced {
public:
    void clear() { spots_.clear(); }
    /// An accepted tap; nothing where no hammer told its force.
    std::optional<modes::ForceVerdict> add(const HeardTap& heard);
    /// A spot each, in the order of taps::Spot; strikes that tell different things (another rate,
    /// other newtons) stand apart.
    std::vector<ForcedAnswer> answers(std::span<const modes::NamedMode> found) const;

private:
    struct Strikes {
        modes::ResponseEstimate estimate;
        std::array<int, 4> judged{}; ///< by ForceVerdict
    };
    struct Kind {
        taps::Spot spot;
        double rate_hz, newton;
        auto operator<=>(const Kind&) const = default;
    };
    std::map<Kind, Strikes> spots_;
};

} // namespace platewright::bench
