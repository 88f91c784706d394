#pragma once
#include "base/result.hpp"
#include "ledger/record.hpp"
#include "plate/plan.hpp"
#include "plate/thickness.hpp"
#include "plate/wood_prior.hpp"

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace platewright::trends {

/// Rises when the same map and modes would give another plan; kept with every plan.
inline constexpr std::string_view k_model_version = "1";

/// Told the share done, 0 to 1; false asks to stop.
using Progress = std::function<bool(double)>;

/// The model of a plate, fitted to all of its sessions that have a map and modes, at the newest of
/// them. Immutable once made; copies share the model.
struct PlateStudy {
    std::size_t session = 0;         ///< index of the newest session with a map
    std::vector<std::size_t> fitted; ///< sessions the fit rests on
    std::shared_ptr<const plate::PlateModel> model;
    std::shared_ptr<const plate::ThicknessMap> map; ///< of that session
    Eigen::VectorXd thickness_mm;                   ///< at the model's nodes, as read
    std::vector<plate::TappedMode> tapped;          ///< of that session, by number
    plate::PlateFit fit;
    plate::FittedState state;
    Eigen::MatrixXd stroke_hz; ///< plate::thinning_map: a row a node, a column a mode
    std::string wood_source;
    std::vector<std::string> remarks; ///< sessions left out, doubts
};

/// Fault, in a sentence: no shape, no session with a map, no named mode to fit to, stopped.
/// A session counts whose fittings (f-holes, bar) are those of the newest. `billet`: what was
/// measured on the wood before, else what the ledger knows of it (PlateHistory::wood); the fit
/// starts from it in place of the handbook. Cost: some 0.2 s a session. Threads: pure; `progress`
/// is called from the caller's thread.
base::Result<PlateStudy> study_plate(const ledger::PlateHistory& history, std::size_t session,
                                     const Progress& progress = {},
                                     const plate::MeasuredWood& billet = {});

/// The tapped modes of a session that bear a number, ascending; each number once.
std::vector<plate::TappedMode> tapped_modes(const ledger::SessionHistory& session);

/// Targets as asked, with modes 1, 2 and 5 held softly where nothing is asked of them.
std::vector<plate::PlanTarget> with_soft_holds(std::vector<plate::PlanTarget> targets,
                                               const PlateStudy& study);

/// What is kept of a plan. `made` and `session` are the caller's.
ledger::PlanRecord record_of(const plate::Plan& plan, const PlateStudy& study,
                             std::span<const plate::PlanTarget> targets,
                             const plate::PlanLimits& limits);

/// The plan of a session set beside the modes of the next session after it that has some; empty
/// where there is no plan, or no later session.
struct PlanHindsight {
    std::size_t planned = 0;       ///< index of the session with the plan
    std::size_t after = 0;         ///< and of the one after the pass
    std::optional<double> taken_g; ///< by the scales
    double pass_g = 0.0;           ///< that the plan's pass would have taken
    std::vector<plate::Hindsight> modes;
};
std::optional<PlanHindsight> hindsight_of(const ledger::PlateHistory& history, std::size_t last);

} // namespace platewright::trends
