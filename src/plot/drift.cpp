#include "plot/drift.hpp"

#include "base/level.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <span>

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

/// Its title and spacing are as what is shown; its ends are the reach's.
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

bool has_strip(const DriftPicture& picture, const DriftTrack& track) {
    return !picture.all_modes && track.name != 0 &&
           std::any_of(track.points.begin(), track.points.end(), [&](const DriftPoint& point) {
               return drift_across(picture, point.session).has_value();
           });
}

/// What a strip stands about: the goal, else the reference, else the newest.
double centre_of(const DriftTrack& track) {
    return track.goal_hz.value_or(track.reference_hz.value_or(track.points.back().frequency_hz));
}

/// What has to be seen of a mode, as shares of what its strip stands about.
struct Shares {
    Reach all;
    double newest = -std::numeric_limits<double>::infinity(); // its upper end
};

Shares shares_of(const DriftPicture& picture, const DriftTrack& track) {
    Shares shares;
    const double centre = centre_of(track);
    shares.all.take(0.0);
    for (const DriftPoint& point : track.points) {
        shares.all.take((point.frequency_hz - point.doubt_hz) / centre - 1.0);
        shares.all.take((point.frequency_hz + point.doubt_hz) / centre - 1.0);
    }
    shares.newest =
        (track.points.back().frequency_hz + track.points.back().doubt_hz) / centre - 1.0;
    if (picture.against == DriftAgainst::mass && !track.forecast.empty()) {
        shares.all.take(
            std::max(track.forecast.back().low_hz / centre - 1.0, -0.25 * k_strip_share));
    }
    return shares;
}

/// Down to the lowest, and up as far as leaves the interval of a hanging its height.
Reach reach_of(const Shares& shares) {
    Reach reach = shares.all;
    const double pad = 0.06 * std::min(reach.high - reach.low, k_strip_share) + 1e-4;
    reach.low -= pad;
    reach.high =
        std::min(reach.high + pad, std::max(reach.low + k_strip_share, shares.newest + pad));
    return reach;
}

/// The part of a mode's frequency that each strip shows, a strip each: in all the same length, so
/// that a percent is as high. With a goal or a reference they are the same shares: it stands at the
/// same height in each. Without any, each is laid about its own sessions.
std::vector<Reach> strip_reaches(const DriftPicture& picture) {
    Shares common;
    std::vector<Reach> own;
    bool is_aimed = false;
    double length = 0.0;
    for (const DriftTrack& track : picture.tracks) {
        if (!has_strip(picture, track)) {
            continue;
        }
        const Shares shares = shares_of(picture, track);
        common.all.take(shares.all.low);
        common.all.take(shares.all.high);
        common.newest = std::max(common.newest, shares.newest);
        own.push_back(reach_of(shares));
        length = std::max(length, own.back().high - own.back().low);
        is_aimed = is_aimed || track.goal_hz || track.reference_hz;
    }
    for (Reach& reach : own) {
        if (is_aimed) {
            reach = reach_of(common);
            continue;
        }
        const double more = 0.5 * (length - (reach.high - reach.low));
        reach = {reach.low - more, reach.high + more};
    }
    return own;
}

/// Where the axis is to begin so that something is seen there in a strip at least: what lies above
/// the strips would leave their beginning empty. Halfway to the last that is not seen, so that
/// lines come in from above.
double seen_from(const DriftPicture& picture, std::span<const DriftTrack* const> shown,
                 std::span<const Reach> reaches, const Axis& across) {
    const double way = across.low < across.high ? 1.0 : -1.0;
    double seen = std::numeric_limits<double>::infinity(); // along the axis
    for (std::size_t i = 0; i < shown.size(); ++i) {
        const double top = centre_of(*shown[i]) * (1.0 + reaches[i].high);
        for (const DriftPoint& point : shown[i]->points) {
            if (const auto x = drift_across(picture, point.session);
                x && point.frequency_hz <= top) {
                seen = std::min(seen, way * *x);
            }
        }
    }
    double before = -std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < picture.sessions.size(); ++i) {
        if (const auto x = drift_across(picture, i); x && way * *x < seen) {
            before = std::max(before, way * *x);
        }
    }
    return std::isfinite(seen) && std::isfinite(before) ? way * 0.5 * (seen + before) : across.low;
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
    Marks marks{{}, {}, Shape::square, 5.0, palette.mean, std::string(say("humidity, %"))};
    Marks astray{{}, {}, Shape::cross, 10.0, palette.on_bad, std::string(say("stands off"))};
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
    strip.end = {std::string(say("humidity, %")), palette.mean, Shape::square, {}};
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

std::optional<std::size_t> drift_strip(const DriftPicture& picture, int name) {
    std::size_t strip = 0;
    for (const DriftTrack& track : picture.tracks) {
        if (!has_strip(picture, track)) {
            continue;
        }
        if (track.name == name) {
            return strip;
        }
        ++strip;
    }
    return std::nullopt;
}

} // namespace platewright::plot
