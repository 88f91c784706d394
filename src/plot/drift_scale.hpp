#pragma once
#include "base/level.hpp"
#include "plot/drift.hpp"

#include <algorithm>
#include <limits>
#include <span>

namespace platewright::plot {

// The scale of a drift: how far its axes reach, and what part of a mode its strip shows.

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

/// Its ends are the reach's, a little wider, but of sessions, which stand side by side.
Axis across_axis(const DriftPicture& picture, const Reach& reach);

/// Its title and spacing are as what is shown; its ends are the reach's.
Axis up_axis(const DriftPicture& picture, const Reach& reach);

/// Whether the mode has a strip of its own in this picture.
bool has_strip(const DriftPicture& picture, const DriftTrack& track);

/// What a strip stands about: the goal, else the reference, else the newest.
double centre_of(const DriftTrack& track);

/// The part of a mode's frequency that each strip shows, a strip each: in all the same length, so
/// that a percent is as high. With a goal or a reference they are the same shares: it stands at the
/// same height in each. Without any, each is laid about its own sessions.
std::vector<Reach> strip_reaches(const DriftPicture& picture);

/// Where the axis is to begin so that something is seen there in a strip at least: what lies above
/// the strips would leave their beginning empty. Halfway to the last that is not seen, so that
/// lines come in from above.
double seen_from(const DriftPicture& picture, std::span<const DriftTrack* const> shown,
                 std::span<const Reach> reaches, const Axis& across);

} // namespace platewright::plot
