#pragma once
#include "base/result.hpp"
#include "ledger/store.hpp"
#include "main/json.hpp"
#include "trends/air/in_air.hpp"
#include "trends/plate_report.hpp"

#include <optional>
#include <string>
#include <vector>

namespace platewright::cli {

/// "5=350", "5=none" (frequency 0), "20:50"; throw CLI::ValidationError.
ledger::TargetRecord parse_target(const std::string& text);
trends::Air parse_air(const std::string& text);

/// trends::question_to, of targets as they are typed to be kept.
std::string question_to(const std::vector<ledger::TargetRecord>& typed,
                        const ledger::PlateHistory& history);
/// The option that answers it.
void add_target_is_right(CLI::App& command, bool& is_right);

/// The named modes of the session that a reference stands for.
base::Result<std::vector<ledger::TargetRecord>> targets_like(const ledger::Store& store,
                                                             const std::string& name);
/// Kept ones with typed ones in their place, ascending; those of frequency 0 left out.
std::vector<ledger::TargetRecord> merged_targets(const std::vector<ledger::TargetRecord>& kept,
                                                 const std::vector<ledger::TargetRecord>& typed);

/// A ledger to change. Throws base::Failure where it can only be read.
base::Result<ledger::Store> open_to_remember(const std::filesystem::path& folder);
void remember(ledger::Store& store, ledger::Id plate,
              const std::vector<ledger::TargetRecord>& targets,
              const std::optional<trends::Air>& air);

std::string target_table(const std::vector<trends::TargetOutlook>& outlooks);
Json target_json(const trends::TargetOutlook& outlook);

/// What stands over a table that is set over, and which sessions are not.
std::string air_heading(const trends::HistoryInAir& in_air, const trends::Air& air);
Json air_json(const trends::HistoryInAir& in_air, const trends::Air& air,
              const ledger::PlateHistory& measured);

} // namespace platewright::cli
