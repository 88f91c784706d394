#pragma once
#include "plate/plan/taken_wood.hpp"
#include "trends/model/plate_study.hpp"
#include "wording/facts.hpp"

#include <functional>
#include <optional>
#include <vector>

namespace platewright::trends {

/// What the next map says was really taken in a pass, beside what was planned. Where the readings
/// of both maps can't tell a figure it is silent: nothing stands there.
struct CarvedPass {
    double map_g = 0.0;    ///< wood between the two maps, with the fitted density
    double map_sd_g = 0.0; ///< as far as the readings of both leave it open
    /// Correlation over the plate of depths taken with depths planned, -1..1: how far the pass went
    /// where the plan said. Nothing where the plan's strokes can't be drawn on today's outline.
    std::optional<double> likeness;
    std::optional<double> times; ///< depth taken over depth planned
    double times_sd = 0.0;
    /// The forecast for just the wood that the maps say was taken, by the fit of before the pass,
    /// beside the taps: what is off here is the model's, not the scraper's. Without the modes that
    /// the maps leave as open as the pass itself.
    std::vector<plate::Hindsight> modes;
};

/// The plan of a session set beside the modes of the first session with some that was begun after
/// the plan was made, in the air of the session it was made from.
struct PlanHindsight {
    std::size_t planned = 0;       ///< index of the session with the plan
    std::size_t after = 0;         ///< and of the one after the pass
    std::optional<double> taken_g; ///< by the scales
    double pass_g = 0.0;           ///< that the plan's pass would have taken
    bool is_in_one_air = false;    ///< the air of both is known
    std::vector<plate::Hindsight> modes;
    std::optional<CarvedPass> carved; ///< where review_carving was asked, and both have maps
};

/// Whether a plan was made by another version of the model than this program's, which might plan
/// otherwise.
bool is_of_older_model(const ledger::PlanRecord& plan);

/// What a kept plan's pass takes.
struct PlannedPass {
    plate::RemovalBasis basis;
    Eigen::VectorXd depths_mm; ///< of the pass, a stroke each

    Eigen::VectorXd at_nodes() const { return basis.at_nodes() * depths_mm; }
    double at(plate::Point p) const { return basis.depth_mm(p, depths_mm); }
};

/// Nothing where the plan's strokes are not those that today's outline has room for by the usual
/// limits of the kind. Threads: pure.
std::optional<PlannedPass> planned_pass(const ledger::PlanRecord& plan,
                                        const plate::PlateModel& model, modes::InstrumentKind kind);

/// The same where it comes to the wood that the plan named, to a tenth: its density may have been
/// fitted anew. Else the plan was made with limits of its own, which were not kept.
std::optional<Eigen::VectorXd> pass_as_planned(const ledger::PlanRecord& plan,
                                               const PlateStudy& study, modes::InstrumentKind kind);

/// What came off at the model's nodes between two maps of the study's plate; `taken`: what is held
/// of it before. Cost: 0.2 s. Threads: pure.
plate::TakenWood taken_between(const PlateStudy& study, const ledger::MapRecord& before,
                               const ledger::MapRecord& after, const plate::TakenPrior& taken);

/// How wide the hollows of a scraper are on an instrument of this kind.
double reach_mm(modes::InstrumentKind kind);

/// Of the plan made last that has such a session. Empty where there is none up to `last`, or
/// f-holes were cut or a bar fitted between them. Costs nothing.
std::optional<PlanHindsight> hindsight_of(const ledger::PlateHistory& history, std::size_t last);

/// How a plan turned out, in the language of now; the same in window and terminal.
wording::Facts facts_of(const PlanHindsight& hindsight, const ledger::PlateHistory& history);

/// Fills in `carved` where both sessions have a map and the plan is there to be fitted; the fit
/// rests on the sessions up to the planned one alone. Cost: study_plate's of those sessions.
/// Threads: pure. The next study_plate fits to the session after as well: so the model learns.
void review_carving(const ledger::PlateHistory& history, PlanHindsight& hindsight,
                    const Progress& progress = {}, const plate::MeasuredWood& billet = {});

} // namespace platewright::trends
