#include "plot/drift/drift_tracks.hpp"

#include "wording/say.hpp"

namespace platewright::plot {
namespace {

using wording::say;

struct Newest {
    double x, hz, doubt_hz;
};

std::optional<Newest> newest_weighed(const DriftPicture& picture, const DriftTrack& track) {
    if (track.points.empty()) {
        return std::nullopt;
    }
    const DriftPoint& last = track.points.back();
    const auto x = drift_across(picture, last.session);
    return x ? std::optional(Newest{*x, last.frequency_hz, last.doubt_hz}) : std::nullopt;
}

void add_forecast(Chart& chart, const DriftPicture& picture, const DriftTrack& track,
                  const Measure& up, Colour colour, Reaches& reaches) {
    Band band{{}, {}, colour.faded(0.22), std::string(say("forecast, 95 %"))};
    Curve middle{{}, {colour, 1.6, Dash::dashed}, {}, {}, Shape::square};
    const auto newest = newest_weighed(picture, track);
    if (newest) { // the fan begins where the mode was tapped last, as wide as that is sure
        band.upper.push_back({newest->x, up.at(newest->hz + newest->doubt_hz)});
        band.lower.push_back({newest->x, up.at(newest->hz - newest->doubt_hz)});
        middle.points.push_back({newest->x, up.at(newest->hz)});
    }
    for (const ForecastPoint& point : track.forecast) {
        if (newest && point.mass_g >= newest->x) {
            continue;
        }
        band.upper.push_back({point.mass_g, up.at(point.high_hz)});
        band.lower.push_back({point.mass_g, up.at(point.low_hz)});
        middle.points.push_back({point.mass_g, up.at(point.frequency_hz)});
        reaches.take(band.upper.back());
        reaches.take(band.lower.back());
    }
    chart.bands.push_back(std::move(band));
    chart.curves.push_back(std::move(middle));
}

/// A line over the whole width: dotted the reference, solid the goal.
void add_level(Chart& chart, const DriftPicture& picture, const DriftTrack& track, double hz,
               std::string_view name, const Pen& pen) {
    const double y = Measure(picture.in, track).at(hz);
    chart.curves.insert(
        chart.curves.begin(),
        {{{chart.across.low, y}, {chart.across.high, y}}, pen, std::string(name), {}, {}});
}

} // namespace

void add_track(Chart& chart, const DriftPicture& picture, const DriftTrack& track,
               const Palette& palette, Reaches& reaches) {
    const ModeLook look = mode_look(track.name, palette);
    const bool named = track.name != 0;
    const Measure up(picture.in, track);
    Curve line{{}, {look.colour, named ? 1.8 : 1.0, Dash::solid}, {}, {}, look.shape};
    Marks marks{{},          {},
                look.shape,  named ? 7.0 : 5.0,
                look.colour, named ? track.words : std::string(say("other modes"))};
    for (const DriftPoint& point : track.points) {
        const auto x = drift_across(picture, point.session);
        if (!x) {
            continue;
        }
        line.points.push_back({*x, up.at(point.frequency_hz)});
        marks.at.push_back(line.points.back());
        marks.spread.push_back(named ? up.doubt(point.frequency_hz, point.doubt_hz) : 0.0);
        reaches.take({*x, line.points.back().y + marks.spread.back()});
        reaches.take({*x, line.points.back().y - marks.spread.back()});
    }
    if (line.points.empty()) {
        return;
    }
    if (named && picture.all_modes) {
        line.end_label = wording::figure(track.points.back().frequency_hz, 1);
    }
    if (picture.against == DriftAgainst::mass && !track.forecast.empty()) {
        add_forecast(chart, picture, track, up, look.colour, reaches);
    }
    chart.curves.push_back(std::move(line));
    chart.marks.push_back(std::move(marks));
}

void add_levels(Chart& chart, const DriftPicture& picture, const DriftTrack& track,
                const Palette& palette) {
    if (track.name == 0 || track.points.empty()) {
        return;
    }
    if (track.reference_hz) {
        add_level(chart, picture, track, *track.reference_hz, say("reference"),
                  {mode_look(track.name, palette).colour, 1.6, Dash::dotted});
    }
    if (track.goal_hz) {
        add_level(chart, picture, track, *track.goal_hz, say("goal"),
                  {palette.ink, 1.6, Dash::solid});
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
    Axis axis{.title =
                  std::string(hertz ? say("frequency, Hz") : say("cents from the first session")),
              .low = reach.low,
              .high = reach.high,
              .spacing = hertz ? Spacing::logarithmic : Spacing::linear};
    widen(axis);
    return axis;
}

} // namespace platewright::plot
