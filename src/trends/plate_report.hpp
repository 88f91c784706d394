#pragma once
#include "trends/decision/decision.hpp"
#include "trends/decision/outlook.hpp"
#include "trends/drift/drift.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace platewright::trends {

/// Plain sentences beside a plate's drift: gains of mass that can hardly be, what the air can have
/// done since the last session, which sessions the forecasts set aside, where a mode stepped, and
/// named modes that the newest session lacks. None where there is nothing to say. Pure.
std::vector<std::string> remarks(const ledger::PlateHistory& history, const Drift& drift);

/// The same of the air alone, for the bench: said where it can have moved a mode by more than a
/// pass is meant to, with what to do. Empty where the newest session's air is that of the one
/// before, or not known. Costs nothing.
std::string air_doubt(const ledger::PlateHistory& history);

/// What is asked about a plate; all of it in one air where the history is.
struct Question {
    const ledger::PlateHistory* history = nullptr; ///< never null
    std::optional<std::size_t> session;     ///< that is to be decided on; nothing: none is open
    const Comparison* comparison = nullptr; ///< of that session with a reference; null: none
    /// A tap there would settle the greatest doubt about a name of that session.
    std::optional<taps::Spot> ask_spot;
    const PassForesight* foresight = nullptr; ///< the model's, of that session; null: none
    std::optional<double> pass_g;             ///< the pass that is meant; nothing: as the last ones
};

/// What follows from a plate's history: window, terminal and paper show this, and compute nothing
/// of it themselves.
struct PlateReport {
    Drift drift;
    std::vector<std::string> remarks;    ///< sentences beside the drift: the air, odd sessions
    std::vector<Goal> goals;             ///< what the modes are to come to
    std::vector<TargetOutlook> outlooks; ///< one a goal
    Decision decision;                   ///< stop, or take more
};

/// Without the model, unless the question brings its word. Pure. Cost: some milliseconds a hundred
/// sessions.
PlateReport report_on(const Question& question);

/// The same with the targets' thickness, and where that ends in wood, or in enough, the plate's
/// model is asked first. Cost: a second or two
/// where the plate has a map. Pure.
PlateReport report_with_model(const Question& question);

} // namespace platewright::trends
