#pragma once
#include <string>
#include <vector>

namespace platewright::plot {

enum class Spacing { linear, logarithmic };

/// What the numbers on an axis are, which settles how its ticks read.
enum class Reading {
    number, // 100, 200; as many decimals as the step asks for
    day,    // days since 1970-01-01, read as 2031-04-17
    named,  // whole numbers 0, 1, 2… that bear the names of Axis::names
};

struct Axis {
    std::string title = {}; // with its unit: "frequency, Hz"
    double low = 0.0;       // data at the left or bottom end
    double high = 1.0;      // data at the other end; may be below `low` for an axis that runs back
    Spacing spacing = Spacing::linear;
    Reading reading = Reading::number;
    std::vector<std::string> names = {}; // for Reading::named, name i stands at i
};

/// A mark on an axis. Minor ones bear no words.
struct Tick {
    double at = 0.0;
    std::string words = {};
};

/// Maps data to a stretch of the surface and back.
/// In: low ≠ high, both finite; logarithmic: both > 0. Anything else throws std::invalid_argument.
class Scale {
public:
    Scale(const Axis& axis, double surface_low, double surface_high);
    double place(double value) const; // data → surface; log of value ≤ 0 gives the low end
    double value(double place) const; // surface → data
private:
    double low_;
    double span_;
    double surface_low_;
    double surface_span_;
    bool logarithmic_;
};

/// Round numbers between the ends of the axis, at most `most` of them (≥ 2), ascending.
/// Linear steps are 1, 2 or 5 times a power of ten; logarithmic ones are whole multiples of a
/// power of ten, thinned to fit, or linear ones when the axis covers less than an octave;
/// days step by 1, 2, 7 or 14 days, then 1, 2, 3, 6 months or years.
std::vector<Tick> ticks(const Axis& axis, int most);

/// The ends moved outward to round numbers, so that data do not lie on the frame.
/// Non-finite or equal ends give a readable axis around the value.
void widen(Axis& axis, double share = 0.06);

// Looking into a chart: each gives the stretch of `now` that is seen next, never more than `all`
// shows. They work on the surface's measure, so that a logarithmic axis zooms evenly too.

/// `factor` < 1 looks closer. `about`: the data value that stays where it is.
Axis zoomed(const Axis& all, const Axis& now, double about, double factor);

/// Moved by a share of what is seen now: 0.5 brings the middle to where the low end was.
Axis moved(const Axis& all, const Axis& now, double share);

} // namespace platewright::plot
