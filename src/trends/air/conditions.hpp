#pragma once
#include "ledger/record.hpp"

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

/// Which plate a top is, for following its modes: cutting the f-holes and fitting the bar each make
/// another of it, as post, bridge and strings do of a closed body. A back stays the same through
/// all stages. Equal values, equal shape.
int shape_of(modes::Part part, modes::Stage stage);

} // namespace platewright::trends
