#pragma once
#include "base/result.hpp"
#include "ledger/record.hpp"
#include "plate/fit/fit.hpp"

#include <vector>

namespace platewright::trends {

/// A kept flex reading with the places that its kind and span stand for, on this outline:
/// lengthwise: on two bars across, the span apart and midway between the ends, load in the middle;
/// crosswise: on two bars along, the span apart, under the lower bout, load in its middle;
/// twist: held at both flanks of the upper line and the left of the lower, the lines the span apart
/// and midway between the ends, load at the right of the lower.
/// Fault, naming the reading: a span that the plate has no room for, or what plate::fault_in finds.
base::Result<plate::FlexReading> flex_reading(const ledger::FlexRecord& record,
                                              const plate::Outline& outline);

/// A flex reading beside the model's value for the same load.
struct FlexCheck {
    ledger::FlexRecord record;
    plate::FlexReading reading; ///< with its supports
    double model_mm = 0.0;
    double model_sd_mm = 0.0; ///< from what the fit leaves open
    double deviations = 0.0;  ///< measured less model, over what was expected of both
};

/// Sets the readings of a session beside the fitted model; those with a fault are left out.
/// thickness_mm: at the model's nodes, as read. Cost: 30 ms a reading. Threads: pure.
std::vector<FlexCheck> check_flexes(const ledger::SessionHistory& session,
                                    const plate::PlateModel& model, const plate::PlateFit& fit,
                                    const Eigen::VectorXd& thickness_mm);

} // namespace platewright::trends
