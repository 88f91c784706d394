#pragma once
#include "ledger/record.hpp"
#include "trends/air/moisture.hpp"

#include <Eigen/Core>

#include <cstddef>
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

} // namespace platewright::trends
