#pragma once
#include "base/level.hpp"
#include "plot/drift/drift.hpp"

#include <algorithm>
#include <limits>

namespace platewright::plot {

// The parts that the drift's pictures are put together from.

/// Hz to what the upright axis shows.
class Measure {
public:
    Measure(DriftIn in, const DriftTrack& track) : in_(in) {
        first_hz_ = track.points.empty() ? 1.0 : track.points.front().frequency_hz;
    }
    double at(double hz) const { return in_ == DriftIn::hertz ? hz : base::cents(hz, first_hz_); }
    double doubt(double hz, double doubt_hz) const {
        return in_ == DriftIn::hertz ? doubt_hz : base::cents(hz + doubt_hz, hz);
    }

private:
    DriftIn in_;
    double first_hz_;
};

/// The least and greatest value that has to be in the picture.
struct Reach {
    double low = std::numeric_limits<double>::infinity();
    double high = -std::numeric_limits<double>::infinity();
    void take(double value) {
        low = std::min(low, value);
        high = std::max(high, value);
    }
};

struct Reaches {
    Reach across;
    Reach up;
    void take(Point p) {
        across.take(p.x);
        up.take(p.y);
    }
};

/// The track with its marks, bars and forecast; takes into `reaches` what has to be seen.
void add_track(Chart& chart, const DriftPicture& picture, const DriftTrack& track,
               const Palette& palette, Reaches& reaches);
/// Its goal and its reference, once the width is known.
void add_levels(Chart& chart, const DriftPicture& picture, const DriftTrack& track,
                const Palette& palette);
void add_stages(Chart& chart, const DriftPicture& picture, const Palette& palette);
Axis across_axis(const DriftPicture& picture, const Reach& reach);
/// Its title and spacing are as what is shown; its ends are the reach's.
Axis up_axis(const DriftPicture& picture, const Reach& reach);

} // namespace platewright::plot
