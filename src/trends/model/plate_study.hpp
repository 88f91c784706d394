#pragma once
#include "base/result.hpp"
#include "ledger/record.hpp"
#include "modes/name/spot_profile.hpp"
#include "plate/plan/plan.hpp"
#include "plate/thickness/thickness.hpp"
#include "plate/wood/wood_prior.hpp"
#include "trends/air/moisture.hpp"
#include "trends/decision/pass_rule.hpp"
#include "trends/model/weighed_taps.hpp"
#include "trends/review/flex_review.hpp"

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace platewright::trends {

/// Rises when the same map and modes would give another plan; kept with every plan.
inline constexpr std::string_view k_model_version = "11";

/// Told the share done, 0 to 1; false asks to stop.
using Progress = std::function<bool(double)>;

/// A map that was carried on to a later session by the mass that has come off since: where the
/// kept plans had it, as far as the scales say that they were done, and else evenly.
struct CarriedMap {
    double taken_g = 0;       ///< since the map, in one air
    double planned_g = 0;     ///< of it, where it was planned
    Eigen::VectorXd taken_mm; ///< at the model's nodes
    double off_mm = 0;        ///< what that may be off by at any place, its standard deviation
    double open_share = 0;    ///< of the plate's mass: wood whose place is not known
};

/// A weighing beside the model that rests on it.
struct WeighingReview {
    ledger::WeighingRecord record;
    std::vector<WeighedModeShift> shifts;
    bool is_modelled = false; ///< else there is no model of it, and the shifts are its taps' alone
    double deviations = 0;    ///< off the model, root mean square over its modes
    bool is_used = false;
};

/// The model of a plate, fitted to all of its sessions that have a map and modes or flex readings,
/// as the plate is now. Immutable once made; copies share the model.
struct PlateStudy {
    std::size_t session = 0; ///< index of the newest session with a map
    std::size_t now = 0;     ///< and of the one whose modes and mass are the plate's; not before it
    ledger::SessionRecord as_of;       ///< the session at `now`
    std::optional<CarriedMap> carried; ///< where they differ
    std::string no_plan;    ///< why there can't be a plan, in a sentence; empty where there can
    std::optional<Air> air; ///< of that session, to which all others are set over
    std::vector<std::size_t> fitted; ///< sessions the fit rests on
    std::shared_ptr<const plate::PlateModel> model;
    std::shared_ptr<const plate::ThicknessMap> map; ///< of the session with the map, as read
    Eigen::VectorXd thickness_mm; ///< at the model's nodes, carried on where it had to be
    Eigen::VectorXd hollow_mm;    ///< below its graduation at the nodes (hollows.hpp); or empty
    std::vector<plate::TappedMode> tapped; ///< of the session that is now, by number
    std::vector<ModeNow> modes;            ///< the same, and what its own sessions say of a gram
    plate::PlateFit fit;
    std::optional<plate::PlateFit> fit_by_taps; ///< without weighings, where there are any
    std::vector<WeighingReview> weighings;      ///< of all sessions fitted, oldest first
    plate::FittedState state;
    Eigen::MatrixXd stroke_hz;     ///< plate::thinning_map: a row a node, a column a mode
    std::vector<FlexCheck> flexes; ///< of the session that is now, beside the model
    bool has_rings = false;        ///< its end grain was looked at
    std::string wood_source;
    std::vector<std::string>
        rests_on; ///< a map that was carried on, sessions set over: to be said first
    std::vector<std::string> remarks; ///< sessions left out, doubts
};

/// The plate as it is at `session`: its newest map, modes and mass up to then. An older map is
/// carried on by the mass that came off since (CarriedMap), up to a tenth of the plate's; where
/// that can't be done the study is of the map's own session, and no_plan says why. All sessions are
/// set over to one air (in_air). Fault, in a sentence: a body, no shape, no session with a map,
/// stopped. A session counts for the fit whose fittings (f-holes, bar) are those of the newest.
/// `billet`: what was measured on the wood before, else what the ledger knows of it
/// (PlateHistory::wood); the fit starts from it in place of the handbook. Cost: some 0.2 s a
/// session, twice where modes were weighed. Threads: pure; `progress` is called from the caller's
/// thread.
base::Result<PlateStudy> study_plate(const ledger::PlateHistory& history, std::size_t session,
                                     const Progress& progress = {},
                                     const plate::MeasuredWood& billet = {});

/// The weighings of a session, as they stand in the study where it has them; `study` may be null.
std::vector<WeighingReview> weighings_of(const ledger::SessionHistory& session,
                                         const PlateStudy* study);

/// The tapped modes of a session that bear a number, ascending; each number once.
std::vector<plate::TappedMode> tapped_modes(const ledger::SessionHistory& session);

/// Why a forecast of this study would mislead; nothing where it need not.
std::optional<base::Fault> unfit_to_foresee(const PlateStudy& study);

/// What naming may expect of this plate's modes 1, 2 and 5 at its spots: by the study's model,
/// modes that are surely recognised there. Empty where the fit is not plausible.
std::vector<modes::SpotProfile> spot_profiles(const PlateStudy& study);

/// Targets as asked, with modes 1, 2 and 5 held softly where nothing is asked of them.
std::vector<plate::PlanTarget> with_soft_holds(std::vector<plate::PlanTarget> targets,
                                               const PlateStudy& study);

/// What is kept of a plan. `made` and `session` are the caller's.
ledger::PlanRecord record_of(const plate::Plan& plan, const PlateStudy& study,
                             const plate::StrokeField& field);

} // namespace platewright::trends
