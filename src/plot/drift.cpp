#include "plot/drift.hpp"

#include "plot/drift_scale.hpp"
#include "wording/say.hpp"

#include <algorithm>

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
    Band band{{}, {}, colour.faded(0.22), say("forecast, 95 %")};
    Curve middle{{}, {colour, 1.6, Dash::dashed}, {}, {}};
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
        {{{chart.across.low, y}, {chart.across.high, y}}, pen, std::string(name), {}});
}

/// The track with its marks, bars and forecast; takes into `reaches` what has to be seen.
void add_track(Chart& chart, const DriftPicture& picture, const DriftTrack& track,
               const Palette& palette, Reaches& reaches) {
    const ModeLook look = mode_look(track.name, palette);
    const bool named = track.name != 0;
    const Measure up(picture.in, track);
    Curve line{{}, {look.colour, named ? 1.8 : 1.0, Dash::solid}, {}, {}};
    Marks marks{{},          {},
                look.shape,  named ? 7.0 : 5.0,
                look.colour, named ? track.words : say("other modes")};
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

/// Its goal and its reference, once the width is known.
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
    const double way = chart.across.low < chart.across.high ? 1.0 : -1.0;
    std::string before;
    for (std::size_t i = 0; i < picture.sessions.size(); ++i) {
        const std::string& stage = picture.sessions[i].stage;
        const auto x = drift_across(picture, i);
        if (stage.empty() || stage == before || !x) {
            continue;
        }
        before = stage;
        const bool is_seen = way * *x >= way * chart.across.low;
        if (!is_seen && !chart.signposts.empty()) {
            chart.signposts.clear(); // what the axis begins with is the last of those before it
        }
        chart.signposts.push_back(
            {is_seen ? *x : chart.across.low, stage, palette.faint_ink, {}, false, Dash::dotted});
    }
}

/// All tracks in one picture.
Chart one_picture(const DriftPicture& picture, const Palette& palette) {
    Chart chart;
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
        if (track.name == 0 || track.points.empty()) {
            continue;
        }
        for (const auto& level : {track.reference_hz, track.goal_hz}) {
            if (level) {
                named.up.take(Measure(picture.in, track).at(*level));
            }
        }
    }
    const Reaches& reaches = named.up.low <= named.up.high ? named : all;
    chart.across = across_axis(picture, reaches.across);
    chart.up = up_axis(picture, reaches.up);
    for (const DriftTrack& track : picture.tracks) {
        add_levels(chart, picture, track, palette);
    }
    return chart;
}

/// Sessions of the track that lie above its strip.
std::ptrdiff_t above(const DriftPicture& picture, const DriftTrack& track, double hz) {
    return std::count_if(track.points.begin(), track.points.end(), [&](const DriftPoint& point) {
        return drift_across(picture, point.session) && point.frequency_hz > hz;
    });
}

Chart mode_strip(const DriftPicture& picture, const DriftTrack& track, const Reach& shares,
                 const Palette& palette, Reaches& reaches) {
    Chart strip;
    const double centre = centre_of(track);
    const Measure up(picture.in, track);
    add_track(strip, picture, track, palette, reaches);
    const double top = centre * (1.0 + shares.high);
    strip.up = {.title = {}, .low = up.at(centre * (1.0 + shares.low)), .high = up.at(top)};
    const ModeLook look = mode_look(track.name, palette);
    strip.end = {track.words, look.colour, look.shape, track.facts};
    if (const auto hidden = above(picture, track, top); hidden > 0) {
        strip.end.name +=
            ", " + wording::say_count(hidden, "{} session above", "{} sessions above");
    }
    return strip;
}

/// The air each session had; what stands off the others' line is marked where its air can be seen.
std::optional<Chart> air_strip(const DriftPicture& picture, const Palette& palette) {
    Curve line{{}, {palette.mean, 1.6, Dash::solid}, {}, {}};
    Marks marks{{}, {}, Shape::square, 5.0, palette.mean, say("humidity, %")};
    Marks astray{{}, {}, Shape::cross, 10.0, palette.on_bad, say("stands off")};
    Reach reach;
    for (std::size_t i = 0; i < picture.sessions.size(); ++i) {
        const auto x = drift_across(picture, i);
        const auto& humidity = picture.sessions[i].humidity_pct;
        if (!x || !humidity) {
            continue;
        }
        line.points.push_back({*x, *humidity});
        (picture.sessions[i].strays ? astray : marks).at.push_back(line.points.back());
        reach.take(*humidity);
    }
    if (line.points.empty()) {
        return std::nullopt;
    }
    Chart strip;
    strip.up = {.title = {},
                .low = std::min(reach.low - 2.0, 0.5 * (reach.low + reach.high) - 8.0),
                .high = std::max(reach.high + 2.0, 0.5 * (reach.low + reach.high) + 8.0)};
    strip.share = 0.42;
    strip.end = {say("humidity, %"), palette.mean, Shape::square, {}};
    if (!astray.at.empty()) {
        strip.end.lines.push_back(wording::say_count(std::ssize(astray.at), "{} session stands off",
                                                     "{} sessions stand off"));
        strip.marks.push_back(std::move(astray));
    }
    strip.curves.push_back(std::move(line));
    strip.marks.push_back(std::move(marks));
    return strip;
}

Chart strips(const DriftPicture& picture, const Palette& palette) {
    Chart chart;
    Reaches reaches;
    const std::vector<Reach> shares = strip_reaches(picture);
    std::vector<const DriftTrack*> shown;
    for (const DriftTrack& track : picture.tracks) {
        if (has_strip(picture, track)) {
            chart.strips.push_back(
                mode_strip(picture, track, shares[shown.size()], palette, reaches));
            shown.push_back(&track);
        }
    }
    chart.across = across_axis(picture, reaches.across);
    if (picture.against == DriftAgainst::mass) {
        chart.across.low = seen_from(picture, shown, shares, chart.across);
    }
    chart.up = up_axis(picture, reaches.up);
    for (std::size_t i = 0; i < shown.size(); ++i) {
        chart.strips[i].across = chart.across;
        add_levels(chart.strips[i], picture, *shown[i], palette);
    }
    if (auto air = air_strip(picture, palette)) {
        chart.strips.push_back(*std::move(air));
    }
    return chart;
}

} // namespace

Chart drift_chart(const DriftPicture& picture, const Palette& palette) {
    const bool in_strips =
        std::any_of(picture.tracks.begin(), picture.tracks.end(),
                    [&](const DriftTrack& track) { return has_strip(picture, track); });
    Chart chart = in_strips ? strips(picture, palette) : one_picture(picture, palette);
    if (chart.empty()) {
        chart.when_empty =
            picture.against == DriftAgainst::mass
                ? say("No session of this plate has a mass yet: weigh it and enter the grams.")
                : say("The drift shows from the second session on.");
        return chart;
    }
    add_stages(chart, picture, palette);
    return chart;
}

} // namespace platewright::plot
