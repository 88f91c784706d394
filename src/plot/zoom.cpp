#include "plot/zoom.hpp"

#include <algorithm>

namespace platewright::plot {
namespace {

constexpr double k_closest = 1e-3; // of the whole axis

/// The stretch from one place to another of an axis that goes from 0 to 1, pushed back inside it.
Axis stretch(const Axis& all, double low, double high) {
    const Scale places(all, 0.0, 1.0);
    const double span = std::clamp(high - low, k_closest, 1.0);
    const double start = std::clamp(low, 0.0, 1.0 - span);
    Axis seen = all;
    if (span < 1.0) { // else the ends stay exactly what they were
        seen.low = places.value(start);
        seen.high = places.value(start + span);
    }
    return seen;
}

} // namespace

Axis zoomed(const Axis& all, const Axis& now, double about, double factor) {
    const Scale places(all, 0.0, 1.0);
    const double low = places.place(now.low);
    const double high = places.place(now.high);
    const double kept = places.place(about);
    const double span = std::clamp((high - low) * factor, k_closest, 1.0);
    const double share = (kept - low) / (high - low);
    return stretch(all, kept - share * span, kept - share * span + span);
}

Axis moved(const Axis& all, const Axis& now, double share) {
    const Scale places(all, 0.0, 1.0);
    const double low = places.place(now.low);
    const double span = places.place(now.high) - low;
    return stretch(all, low + share * span, low + (1.0 + share) * span);
}

} // namespace platewright::plot
