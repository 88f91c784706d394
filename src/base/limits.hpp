#pragma once

namespace platewright::base {

/// What can be typed for a figure: beyond it a slip of the pen, which is refused at the door.
struct Limits {
    double least, most;
    const char* unit;
    constexpr bool hold(double value) const { return value >= least && value <= most; }
};

} // namespace platewright::base
