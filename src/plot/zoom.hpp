#pragma once
#include "plot/axis.hpp"

namespace platewright::plot {

// Looking into a chart: each gives the stretch of `now` that is seen next, never more than `all`
// shows. They work on the surface's measure, so that a logarithmic axis zooms evenly too.

/// `factor` < 1 looks closer. `about`: the data value that stays where it is.
Axis zoomed(const Axis& all, const Axis& now, double about, double factor);

/// Moved by a share of what is seen now: 0.5 brings the middle to where the low end was.
Axis moved(const Axis& all, const Axis& now, double share);

} // namespace platewright::plot
