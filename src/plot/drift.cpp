#include "plot/drift.hpp"

#include "base/level.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <limits>

namespace platewright::plot {
namespace {

using wording::say;

/// Hz to what the upright axis shows.
class Measure {
public:
    Measure(DriftIn in, const DriftTrack& track) : in_(in) {
        first_hz_ = track.points.empty() ? 1.0 : track.points.front().frequency_hz;
    }
    double at(double hz) const { return in_ == DriftIn::hertz ? hz : base::cents(hz, first_hz_); }
    double spread(double hz, double spread_hz) const {
        return in_ == DriftIn::hertz ? spread_hz : base::cents(hz + spread_hz, hz);
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

void add_forecast(Chart& chart, const DriftTrack& track, const Measure& up, Colour colour,
                  Reaches& reaches) {
    Band band{{}, {}, colour.faded(0.22), std::string(say("forecast, 95 %"))};
    Curve middle{{}, {colour, 1.6, Dash::dashed}, {}, {}, Shape::square};
    for (const ForecastPoint& point : track.forecast) {
        band.upper.push_back({point.mass_g, up.at(point.high_hz)});
        band.lower.push_back({point.mass_g, up.at(point.low_hz)});
        middle.points.push_back({point.mass_g, up.at(point.frequency_hz)});
        reaches.take(band.upper.back());
        reaches.take(band.lower.back());
    }
    chart.bands.push_back(std::move(band));
    chart.curves.push_back(std::move(middle));
}

void add_track(Chart& chart, const DriftPicture& picture, const DriftTrack& track,
               const Palette& palette, Reaches& reaches) {
    const ModeLook look = mode_look(track.name, palette);
    const bool named = track.name != 0;
    const Measure up(picture.in, track);
    Curve line{{}, {look.colour, named ? 2.6 : 1.0, Dash::solid}, {}, {}, look.shape};
    Marks marks{{},          {},
                look.shape,  named ? 12.0 : 6.0,
                look.colour, named ? track.words : std::string(say("other modes"))};
    for (const DriftPoint& point : track.points) {
        const auto x = drift_across(picture, point.session);
        if (!x) {
            continue;
        }
        line.points.push_back({*x, up.at(point.frequency_hz)});
        marks.at.push_back(line.points.back());
        marks.spread.push_back(named ? up.spread(point.frequency_hz, 2.0 * point.spread_hz) : 0.0);
        reaches.take({*x, line.points.back().y + marks.spread.back()});
        reaches.take({*x, line.points.back().y - marks.spread.back()});
    }
    if (line.points.empty()) {
        return;
    }
    if (named) {
        line.end_label = wording::figure(track.points.back().frequency_hz, 1);
    }
    if (picture.against == DriftAgainst::mass && !track.forecast.empty()) {
        add_forecast(chart, track, up, look.colour, reaches);
    }
    chart.curves.push_back(std::move(line));
    chart.marks.push_back(std::move(marks));
}

/// Dotted lines over the whole width, once the width is known.
void add_references(Chart& chart, const DriftPicture& picture, const Palette& palette) {
    for (const DriftTrack& track : picture.tracks) {
        if (track.reference_hz && track.name != 0 && !track.points.empty()) {
            const double y = Measure(picture.in, track).at(*track.reference_hz);
            const Pen pen{mode_look(track.name, palette).colour, 1.6, Dash::dotted};
            chart.curves.push_back(
                {{{chart.across.low, y}, {chart.across.high, y}}, pen, std::string(say("reference")), {}, {}});
        }
    }
}

void add_stages(Chart& chart, const DriftPicture& picture, const Palette& palette) {
    std::string before;
    for (std::size_t i = 0; i < picture.sessions.size(); ++i) {
        const std::string& stage = picture.sessions[i].stage;
        const auto x = drift_across(picture, i);
        if (!stage.empty() && stage != before && x) {
            chart.signposts.push_back({*x, stage, palette.faint_ink, {}, false, Dash::dotted});
            before = stage;
        }
    }
}

Axis across_axis(const DriftPicture& picture, const Reach& reach) {
    Axis axis{.title = {}, .low = reach.low, .high = reach.high};
    switch (picture.against) {
    case DriftAgainst::session:
        axis.title = say("session");
        axis.reading = Reading::named;
        for (const DriftSession& session : picture.sessions) {
            axis.names.push_back(session.label);
        }
        axis.low = -0.4;
        axis.high = static_cast<double>(picture.sessions.size()) - 0.6;
        return axis;
    case DriftAgainst::day:
        axis.title = say("day");
        axis.reading = Reading::day;
        break;
    case DriftAgainst::mass:
        axis.title = say("mass, g: wood comes off towards the right");
        break;
    }
    widen(axis, 0.04);
    if (picture.against == DriftAgainst::mass) {
        std::swap(axis.low, axis.high);
    }
    return axis;
}

Axis up_axis(const DriftPicture& picture, const Reach& reach) {
    const bool hertz = picture.in == DriftIn::hertz;
    Axis axis{.title = std::string(hertz ? say("frequency, Hz")
                                          : say("cents from the first session")),
              .low = reach.low,
              .high = reach.high,
              .spacing = hertz ? Spacing::logarithmic : Spacing::linear};
    widen(axis);
    return axis;
}

} // namespace

std::optional<double> drift_across(const DriftPicture& picture, std::size_t session) {
    if (session >= picture.sessions.size()) {
        return std::nullopt;
    }
    switch (picture.against) {
    case DriftAgainst::session:
        return static_cast<double>(session);
    case DriftAgainst::mass:
        return picture.sessions[session].mass_g;
    case DriftAgainst::day:
        return picture.sessions[session].day;
    }
    return std::nullopt;
}

Chart drift_chart(const DriftPicture& picture, const Palette& palette) {
    Chart chart;
    chart.when_empty =
        picture.against == DriftAgainst::mass
            ? say("No session of this plate has a mass yet: weigh it and enter the grams.")
            : say("The drift shows from the second session on.");
    // Named tracks settle how high the picture is; without any, all do. Others are drawn below
    // them.
    Reaches named;
    Reaches all;
    for (const bool draw_named : {false, true}) {
        for (const DriftTrack& track : picture.tracks) {
            if ((track.name != 0) == draw_named) {
                add_track(chart, picture, track, palette, draw_named ? named : all);
            }
        }
    }
    if (chart.empty()) {
        return chart;
    }
    for (const DriftTrack& track : picture.tracks) {
        if (track.reference_hz && track.name != 0 && !track.points.empty()) {
            named.up.take(Measure(picture.in, track).at(*track.reference_hz));
        }
    }
    const Reaches& reaches = named.up.low <= named.up.high ? named : all;
    chart.across = across_axis(picture, reaches.across);
    chart.up = up_axis(picture, reaches.up);
    add_references(chart, picture, palette);
    add_stages(chart, picture, palette);
    return chart;
}

} // namespace platewright::plot
