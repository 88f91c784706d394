#pragma once
#include "ledger/record.hpp"
#include "modes/name/name.hpp"

#include <span>
#include <vector>

namespace platewright::bench {

/// Names for the modes found in a session, by what is known of the plate and of its earlier
/// sessions; `profiles`: what a model of it expects at its spots, where there is one. What the
/// maker has named in this session stands, whatever the evidence says; a number is borne once, and
/// what was in doubt about it is no longer. Pure.
modes::Naming name_session(const ledger::PlateHistory& history,
                           const ledger::SessionHistory& session,
                           const std::vector<modes::Mode>& found,
                           std::span<const modes::SpotProfile> profiles = {});

/// Names the modes of all sessions anew, one after the other, as each would have been named had it
/// been entered with what is now said of it (mass, stage, air, date). The maker's own names stand.
/// True where a name changed. Pure.
bool name_all_anew(ledger::PlateHistory& history,
                   std::span<const modes::SpotProfile> profiles = {});

/// Named modes as the ledger keeps them, found by this program's analysis.
std::vector<ledger::ModeRecord> mode_records(ledger::Id session,
                                             const std::vector<modes::NamedMode>& modes);

} // namespace platewright::bench
