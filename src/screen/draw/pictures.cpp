#include "screen/draw/pictures.hpp"

#include "base/clock.hpp"
#include "base/interval.hpp"
#include "base/text.hpp"
#include "trends/drift/repeatability.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::screen {
namespace {

using wording::figure;
using wording::say;
using wording::signed_figure;

constexpr double k_weakest_signpost_db = -35.0;
constexpr std::size_t k_most_unnamed = 6; // signposts; more would hide the named ones
constexpr double k_forecast_g = 5.0;      // how far ahead the band is drawn

plot::SpectrumLine line_of(const modes::Spectrum& spectrum, std::string_view name,
                           const Band& band) {
    plot::SpectrumLine line{{}, std::string(name)};
    for (std::size_t i = 0; i < spectrum.level_dbfs.size(); ++i) {
        const double hz = static_cast<double>(i) * spectrum.step_hz;
        if (hz >= 0.9 * band.low_hz && hz <= 1.1 * band.high_hz) {
            line.points.push_back({hz, static_cast<double>(spectrum.level_dbfs[i])});
        }
    }
    return line;
}

/// An empty picture of the band.
template <class Picture>
Picture within(const Band& band, bool logarithmic) {
    Picture picture;
    picture.low_hz = band.low_hz;
    picture.high_hz = band.high_hz;
    picture.spacing = logarithmic ? plot::Spacing::logarithmic : plot::Spacing::linear;
    return picture;
}

/// Levels against the strongest.
plot::SpectrumLine relative_line(const bench::SpectrumView& view, const Band& band) {
    plot::SpectrumLine line = line_of(view.spectrum, view.label, band);
    const auto strongest = std::max_element(line.points.begin(), line.points.end(),
                                            [](const auto& a, const auto& b) { return a.y < b.y; });
    const double top = strongest == line.points.end() ? 0.0 : strongest->y;
    for (plot::Point& point : line.points) {
        point.y -= top;
    }
    return line;
}

plot::ModePost post(const modes::Mode& mode, std::optional<int> number) {
    const std::string hz = figure(mode.frequency_hz, number ? 1 : 0);
    return {mode.frequency_hz, number.value_or(0),
            number ? modes::short_mode_text(*number) + "  " + hz : hz};
}

/// Named modes, and the strongest of the others.
std::vector<plot::ModePost> posts(const std::vector<modes::NamedMode>& all) {
    std::vector<plot::ModePost> out;
    std::vector<const modes::Mode*> unnamed;
    for (const modes::NamedMode& mode : all) {
        if (mode.name) {
            out.push_back(post(mode.mode, mode.name->number));
        } else if (mode.mode.level_db >= k_weakest_signpost_db) {
            unnamed.push_back(&mode.mode);
        }
    }
    std::sort(unnamed.begin(), unnamed.end(),
              [](const auto* a, const auto* b) { return a->level_db > b->level_db; });
    unnamed.resize(std::min(unnamed.size(), k_most_unnamed));
    for (const modes::Mode* mode : unnamed) {
        out.push_back(post(*mode, std::nullopt));
    }
    return out;
}

std::vector<plot::ForecastPoint> ahead(const trends::Forecast& forecast) {
    std::vector<plot::ForecastPoint> points;
    for (double taken_g = 0.0; taken_g <= k_forecast_g; taken_g += 0.5) {
        const double mass_g = forecast.mass_g - taken_g;
        const trends::Interval hz = trends::hz_at(forecast, mass_g);
        points.push_back({mass_g, hz.value, hz.low, hz.high});
    }
    return points;
}

std::string words_of(const trends::Change& change) {
    return wording::signed_with_range(change.hz, change.hz_sd, 1) + " Hz";
}

/// What stands at a track's end: where it is, what it did, how far it is to go, what a gram does.
std::vector<std::string> facts_of(const trends::TrackDrift& drift, const plot::DriftTrack& track,
                                  const std::string& step) {
    const double hz = drift.track.points.back().value.frequency_hz;
    std::vector<std::string> facts{figure(hz, 1) + " \u00b1 " +
                                   figure(track.points.back().doubt_hz, 1) + " Hz"};
    if (track.goal_hz) {
        facts.back() += ", " + say("goal {}: {}", figure(*track.goal_hz, 1),
                                   signed_figure(hz - *track.goal_hz, 1));
    } else if (track.reference_hz) {
        facts.back() += ", " + say("reference {}: {}", figure(*track.reference_hz, 1),
                                   signed_figure(hz - *track.reference_hz, 1));
    }
    if (drift.since_last) {
        facts.push_back(say("since last: {}", words_of(*drift.since_last)));
    }
    if (drift.since_beginning) {
        facts.push_back(say("since first: {}", words_of(*drift.since_beginning)));
    }
    if (const auto& then = drift.forecast ? drift.forecast->step_on : std::nullopt) {
        facts.push_back(step + ": " +
                        say("{} ({} to {})", figure(then->value, 1), figure(then->low, 1),
                            figure(then->high, 1)));
    }
    return facts;
}

plot::DriftTrack drift_track(const trends::TrackDrift& drift, const trends::PlateReport& report,
                             const trends::Comparison* comparison) {
    plot::DriftTrack out;
    const trends::Track& track = drift.track;
    for (const trends::TrackPoint& point : track.points) {
        out.points.push_back({point.session, point.value.frequency_hz,
                              base::plus_minus(trends::session_sd_hz(point.value))});
    }
    if (!track.name) {
        return out;
    }
    out.name = track.name->number;
    out.words = modes::mode_text(out.name);
    const trends::ComparedMode* beside =
        comparison != nullptr ? trends::find_mode(*comparison, out.name) : nullptr;
    if (beside != nullptr && beside->reference) {
        out.reference_hz = beside->reference->frequency_hz;
    }
    const trends::Goal* goal = trends::find_goal(report.goals, out.name);
    if (goal != nullptr && !goal->of_reference) {
        out.goal_hz = goal->hz;
    }
    if (drift.forecast) {
        out.forecast = ahead(*drift.forecast);
    }
    if (!out.points.empty()) {
        out.facts = facts_of(drift, out, trends::told_step_words(report.drift));
    }
    return out;
}

/// Whether a session stands off the line of any mode with a name.
bool strays(const trends::PlateReport& report, std::size_t session) {
    return std::ranges::any_of(report.drift.tracks, [&](const trends::TrackDrift& one) {
        return one.forecast && std::ranges::count(one.forecast->odd_sessions, session) > 0;
    });
}

} // namespace

Band band_of(modes::InstrumentKind kind) {
    switch (kind) {
    case modes::InstrumentKind::violin:
        return {60.0, 1000.0};
    case modes::InstrumentKind::viola:
        return {40.0, 800.0};
    case modes::InstrumentKind::cello:
        return {20.0, 500.0};
    case modes::InstrumentKind::double_bass:
        return {12.0, 320.0};
    case modes::InstrumentKind::other:
        break;
    }
    return {40.0, 2500.0};
}

plot::SpectrumPicture spectrum_picture(const bench::PlateView& plate, bool logarithmic) {
    const Band band = band_of(plate.history.instrument.kind);
    auto picture = within<plot::SpectrumPicture>(band, logarithmic);
    if (plate.last_tap) {
        picture.last_tap = relative_line(*plate.last_tap, band);
    }
    if (plate.session_mean) {
        picture.mean = relative_line(*plate.session_mean, band);
    }
    for (auto ghost = plate.ghosts.rbegin(); ghost != plate.ghosts.rend(); ++ghost) {
        picture.ghosts.push_back(relative_line(*ghost, band));
    }
    picture.modes = posts(plate.naming.modes);
    return picture;
}

plot::BesidePicture beside_picture(const bench::PlateView& plate, bool logarithmic) {
    const Band band = band_of(plate.history.instrument.kind);
    auto picture = within<plot::BesidePicture>(band, logarithmic);
    if (plate.session_mean) {
        picture.plate = relative_line(*plate.session_mean, band);
    }
    if (plate.reference_mean) {
        picture.reference = relative_line(*plate.reference_mean, band);
    }
    if (plate.comparison) {
        for (const trends::ComparedMode& mode : plate.comparison->modes) {
            if (mode.number && mode.plate) {
                picture.plate_modes.push_back(post(*mode.plate, mode.number));
            }
            if (mode.number && mode.reference) {
                picture.reference_modes.push_back(post(*mode.reference, mode.number));
            }
        }
    }
    return picture;
}

plot::SpectrumPicture study_picture(const bench::TapStudy& study, modes::InstrumentKind kind,
                                    bool logarithmic) {
    const Band band = band_of(kind);
    auto picture = within<plot::SpectrumPicture>(band, logarithmic);
    picture.ghosts.push_back(line_of(study.left, say("left over"), band));
    picture.mean = line_of(study.heard, say("as heard"), band);
    picture.last_tap = line_of(study.fitted, say("the fit"), band);
    return picture;
}

plot::DriftPicture drift_picture(const ledger::PlateHistory& history,
                                 const trends::PlateReport& report,
                                 const trends::Comparison* comparison) {
    plot::DriftPicture picture;
    for (const ledger::SessionHistory& session : history.sessions) {
        const ledger::SessionRecord& record = session.session;
        const std::size_t index = picture.sessions.size();
        picture.sessions.push_back(
            {std::to_string(index + 1), std::string(modes::to_text(record.stage)), record.mass_g,
             base::local_day(record.begun), record.humidity_pct, strays(report, index)});
    }
    for (const trends::TrackDrift& drift : report.drift.tracks) {
        if (!drift.track.name && drift.track.points.size() < 2) {
            continue; // found once: no drift to see
        }
        picture.tracks.push_back(drift_track(drift, report, comparison));
    }
    std::ranges::stable_sort(picture.tracks, {}, &plot::DriftTrack::name);
    const auto weighed =
        std::ranges::count_if(history.sessions, [](const auto& s) { return !!s.session.mass_g; });
    if (weighed >= 2 && history.plate.part != modes::Part::body) {
        picture.against = plot::DriftAgainst::mass;
    }
    return picture;
}

} // namespace platewright::screen
