#pragma once
/// Bending a plate with a known load: what the hands feel, as a number.

#include "base/result.hpp"
#include "plate/plan/sensitivity.hpp"

#include <optional>
#include <string>
#include <vector>

namespace platewright::plate {

/// One reading: the plate rests on its supports, a load is laid on, and the place under the load
/// goes down. Lengthwise: supports at both ends; crosswise: at both flanks; twist: at three corners
/// of the bouts with the load at the fourth.
struct FlexReading {
    std::string name;            // "lengthwise", or the maker's own word
    std::vector<Point> supports; // three or more, not in a line
    Point load;
    double load_g = 0.0;
    double deflection_mm = 0.0;
    double sd_mm = 0.02; // of the dial gauge
};

/// Refuses, naming the reading: too few supports or all in a line, places off the plate, a load or
/// a deflection that is not more than nothing, or a deflection beyond the plate's own thickness'
/// fivefold (20 mm), where the plate no longer bends in proportion.
std::optional<base::Fault> fault_in(const FlexReading& reading, const Outline& outline);

/// What the model says for the same load, and how it would change.
struct FlexValue {
    double deflection_mm = 0.0;
    WoodChange by_wood_mm = WoodChange::Zero(); // per WoodUnknown
    ArchShift by_arch_mm = ArchShift::Zero();   // per unknown of the arch
    double by_thickness_mm = 0.0;               // mm per mm of thickness everywhere
};

/// Small-deflection statics of the same shell: K u = F. d = u . F / |F|, so
/// d(d) = -u^T dK u / |F|. The supports hold in z only. Cost: about 30 ms. Threads: pure.
FlexValue flex_value(const PlateModel& model, const Eigen::VectorXd& thickness_mm,
                     const ArchShift& arch, const PlateWood& wood, const FlexReading& reading);

} // namespace platewright::plate
