#pragma once
#include "ledger/record.hpp"

namespace platewright::bench {

/// A session of this plate that is to begin: at the stage of the newest one, for wood goes off in
/// small steps; of a closed body, closed. Its date is given where it begins; mass and air are the
/// maker's to say.
ledger::SessionRecord fresh_session(const ledger::PlateHistory& history);

} // namespace platewright::bench
