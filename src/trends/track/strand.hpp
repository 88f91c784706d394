#pragma once
#include "ledger/record.hpp"
#include "trends/air/moisture.hpp"
#include "trends/track/track.hpp"

#include <Eigen/Core>

#include <cstddef>
#include <map>
#include <optional>
#include <span>
#include <vector>

namespace platewright::trends {

/// What a session's frequencies depend on besides the plate itself. Where a session lacks its mass
/// or its air, those of the nearest one that has them stand in (earlier ones first), and it says
/// so.
struct Conditions {
    int shape = 0;            ///< shape_of
    double log_dry_mass = 0;  ///< ln of the mass in g, less its water
    double moisture_pct = 0;  ///< at which the wood settles
    double temperature_c = 0; ///< of the room
    double log_common = 0; ///< by which ln of all frequencies lies off, for no cause that is known
    bool is_weighed = false;
    bool is_air_known = false;
};

/// One a session. Threads: pure.
std::vector<Conditions> conditions_of(const ledger::PlateHistory& history);

/// How one mode's frequency follows mass and air, learnt session by session:
/// ln f = level + exponent · ln(dry mass) + wet · moisture + warm · temperature, the level free to
/// wander a little from session to session: where the wood comes off is not known.
/// A Kalman filter (R. E. Kalman, J. Basic Eng. 82, 1960); before a mode has shown its own,
/// exponent and answers to the air are those of modes of its kind, with their ranges. Cost: the
/// same for each session, however many there were. Threads: one owner.
class ModeLaw {
public:
    ModeLaw(const Conditions& first, double frequency_hz, const AirResponse& response,
            bool follows_mass);

    /// ln f in a session, and its standard deviation.
    struct Foreseen {
        double log_hz = 0;
        double log_sd = 0;
    };
    [[nodiscard]] Foreseen foresee(const Conditions& session, std::size_t sessions_since) const;

    void learn(const Conditions& session, std::size_t sessions_since, double frequency_hz);

private:
    using State = Eigen::Vector4d; // level, exponent, wet, warm
    [[nodiscard]] State row(const Conditions& session) const;
    [[nodiscard]] double wandering(const Conditions& session, std::size_t sessions_since) const;

    State mean_;
    Eigen::Matrix4d covariance_;
    Conditions last_;
    double log_mass_origin_ =
        0; // moves where the plate becomes another: holes and bar are no scraping
    bool follows_mass_ = true;
};

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

/// Gives each track its name from the names of its modes: the maker's newest word, else the number
/// that the found names speak for most, by confidence. A number is borne by one track only: the
/// maker's word wins, then the stronger evidence.
void name_tracks(std::vector<Track>& tracks, const ledger::PlateHistory& history);

/// Which strand goes on with which mode of a session.
struct Pairing {
    std::vector<std::size_t> mode_of_strand; ///< k_no_mode where it was not found
    double common_ratio = 1.0;               ///< by which all modes moved beyond what was foreseen
};
inline constexpr std::size_t k_no_mode = static_cast<std::size_t>(-1);

/// The cheapest assignment within gates, by frequency as foreseen, damping, spots, and names: a
/// number that the maker gave goes on with that number whatever else speaks against it, a name
/// found with confidence weighs and reaches farther than frequency alone. The session's conditions
/// are corrected by what all modes have in common: how far the plate had settled to its air.
/// Threads: pure.
Pairing pair_with(std::span<const Strand> strands, const ledger::PlateHistory& history,
                  std::span<Conditions> conditions, std::size_t session);

} // namespace platewright::trends
