#include "report/page/page_parts.hpp"

#include "base/clock.hpp"
#include "plot/palette.hpp"
#include "report/page/svg_canvas.hpp"
#include "report/sheet/sheet_parts.hpp"
#include "trends/drift/repeatability.hpp"

#include <fmt/format.h>

namespace platewright::report {
namespace {

using wording::figure;
using wording::say;

constexpr plot::Size k_drift{960.0, 520.0};
constexpr plot::Size k_map{560.0, 720.0};
constexpr double k_pointed = 11.0; // px: a fingertip's worth around a mark

std::string point_words(const PlateSheet& sheet, const trends::Track& track, std::size_t at) {
    const trends::TrackPoint& point = track.points[at];
    const ledger::SessionRecord& session = sheet.history.sessions[point.session].session;
    std::string words = base::local_date(session.begun) + ": ";
    if (track.name)
        words += modes::mode_text(track.name->number) + ", ";
    words += fmt::format(
        "{} {}, {} {}",
        wording::with_range(point.value.frequency_hz, trends::session_sd_hz(point.value), 1),
        say("Hz"), say("Q"), figure(point.value.q, 0));
    if (session.mass_g)
        words += "; " + say("{} g", figure(*session.mass_g, 1));
    return words;
}

} // namespace

std::string session_anchor(ledger::Id session) { return fmt::format("session-{}", session); }

std::string drift_figure(const PlateSheet& sheet, std::string_view name) {
    if (sheet.drift.tracks.empty())
        return {};
    SvgCanvas canvas(std::string(name), k_drift,
                     fmt::format("{}: {}", sheet.history.plate.label, say("Drift")));
    const plot::Chart chart = drift_chart_of(sheet);
    const plot::Box area{6.0, 6.0, k_drift.width - 6.0, k_drift.height - 6.0};
    const plot::Frame frame = plot::draw(chart, area, canvas, plot::paper_palette(),
                                         {.text_height = 14.0, .line_scale = 1.0});
    for (const trends::TrackDrift& drift : sheet.drift.tracks) {
        const auto strip =
            plot::drift_strip(sheet.chart, drift.track.name ? drift.track.name->number : 0);
        if (!strip && !frame.strips.empty())
            continue; // a mode without a name is not drawn
        const plot::Frame& shown = strip ? frame.strips[*strip] : frame;
        for (std::size_t i = 0; i < drift.track.points.size(); ++i) {
            const trends::TrackPoint& point = drift.track.points[i];
            const auto across = plot::drift_across(sheet.chart, point.session);
            if (!across || sheet.chart.in != plot::DriftIn::hertz)
                continue;
            const plot::Point place{frame.across.place(*across),
                                    shown.up.place(point.value.frequency_hz)};
            if (shown.inside.holds(place))
                canvas.hot(place, k_pointed, point_words(sheet, drift.track, i),
                           session_anchor(sheet.history.sessions[point.session].session.id));
        }
    }
    return canvas.finish();
}

std::string map_figure(const PlateSheet& sheet, std::string_view name) {
    if (!sheet.map)
        return {};
    SvgCanvas canvas(std::string(name), k_map,
                     fmt::format("{}: {}", sheet.history.plate.label, say("Thickness")));
    const plot::PlateFrame frame =
        plot::draw(sheet.map_picture, {6.0, 6.0, k_map.width - 6.0, k_map.height - 6.0}, canvas,
                   plot::paper_palette(), {.text_height = 14.0, .line_scale = 1.0});
    for (const plate::ThicknessReading& reading : sheet.map->map.readings())
        canvas.hot(frame.place({reading.at.x_mm, reading.at.y_mm}), k_pointed,
                   say("x {}, y {}: {} mm", figure(reading.at.x_mm, 0), figure(reading.at.y_mm, 0),
                       figure(reading.thickness_mm, 2)),
                   {});
    return canvas.finish();
}

void put_table(Markup& markup, const FlowTable& table) {
    markup.open("div", {{"class", "scroll"}}).open("table");
    const auto is_figures = [&](std::size_t column) {
        return column < table.columns.size() && table.columns[column].figures ? std::string("n")
                                                                              : std::string();
    };
    if (!table.columns.empty()) {
        markup.open("tr");
        for (std::size_t i = 0; i < table.columns.size(); ++i)
            markup.said("th", table.columns[i].head, {{"class", is_figures(i)}});
        markup.close("tr");
    }
    for (const auto& row : table.rows) {
        markup.open("tr");
        for (std::size_t i = 0; i < row.size(); ++i)
            markup.said("td", row[i], {{"class", is_figures(i)}});
        markup.close("tr");
    }
    markup.close("table").close("div");
}

} // namespace platewright::report
