#pragma once
#include "ledger/record.hpp"
#include "trends/track/mode_law.hpp"
#include "trends/track/track.hpp"

#include <cstddef>
#include <map>
#include <optional>
#include <span>

namespace platewright::trends {

/// From this confidence on a found name tells which mode is which (modes::name_modes calls it
/// sure).
inline constexpr double k_sure_name = 0.95;

/// A mode as a strand foresees it.
struct ForeseenMode {
    modes::Mode mode;  ///< with the damping and spots of its sessions' mean
    double log_sd = 0; ///< of ln of its frequency
};

/// A track while it is being followed, and what it leads one to expect of the next session.
class Strand {
public:
    Strand(const ledger::PlateHistory& history, std::span<const Conditions> conditions,
           TrackPoint first);

    void add(const TrackPoint& point);

    /// The mode as it should be in a session, by that session's mass and air.
    [[nodiscard]] ForeseenMode expected_in(std::size_t session) const;

    /// The number that the maker gave to one of its modes, newest first.
    [[nodiscard]] std::optional<int> makers_number() const { return by_maker_; }
    /// The number that names found with confidence speak for most.
    [[nodiscard]] std::optional<int> found_number() const;

    /// Whether one of its modes ever bore a name.
    [[nodiscard]] bool is_named() const { return !evidence_.empty(); }

    /// Not found for so long that a mode near its place is another: a chair, a lamp. A strand that
    /// ever bore a name never sleeps.
    [[nodiscard]] bool sleeps_in(std::size_t session) const;

    [[nodiscard]] std::size_t last_session() const { return track_.points.back().session; }
    [[nodiscard]] const Track& track() const { return track_; }

private:
    void hear_name(const TrackPoint& point);
    void remember(const modes::Mode& mode);

    const ledger::PlateHistory* history_;
    std::span<const Conditions> conditions_;
    Track track_;
    ModeLaw law_;
    modes::Mode usual_; ///< damping and levels at the spots in the mean of its sessions
    std::map<taps::Spot, int> struck_; ///< sessions in each spot's mean
    std::map<int, double> evidence_;   ///< sums of confidence, by number
    std::optional<int> by_maker_;
};

} // namespace platewright::trends
