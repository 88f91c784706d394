#include "plot/drift_scale.hpp"

#include "wording/say.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::plot {
namespace {

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

} // namespace

Axis across_axis(const DriftPicture& picture, const Reach& reach) {
    Axis axis{.title = {}, .low = reach.low, .high = reach.high};
    switch (picture.against) {
    case DriftAgainst::session:
        axis.title = wording::say("session");
        axis.reading = Reading::named;
        for (const DriftSession& session : picture.sessions) {
            axis.names.push_back(session.label);
        }
        axis.low = -0.4;
        axis.high = static_cast<double>(picture.sessions.size()) - 0.6;
        return axis;
    case DriftAgainst::day:
        axis.title = wording::say("day");
        axis.reading = Reading::day;
        break;
    case DriftAgainst::mass:
        axis.title = wording::say("mass, g: wood comes off towards the right");
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
    Axis axis{.title = hertz ? wording::say("frequency, Hz")
                             : wording::say("cents from the first session"),
              .low = reach.low,
              .high = reach.high,
              .spacing = hertz ? Spacing::logarithmic : Spacing::linear};
    widen(axis);
    return axis;
}

bool has_strip(const DriftPicture& picture, const DriftTrack& track) {
    return !picture.all_modes && track.name != 0 &&
           std::any_of(track.points.begin(), track.points.end(), [&](const DriftPoint& point) {
               return drift_across(picture, point.session).has_value();
           });
}

double centre_of(const DriftTrack& track) {
    return track.goal_hz.value_or(track.reference_hz.value_or(track.points.back().frequency_hz));
}

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
