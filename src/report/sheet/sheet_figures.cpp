// The figures of sheets.
#include "base/clock.hpp"
#include "report/sheet/sheet_parts.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace platewright::report {
namespace {

using wording::figure;
using wording::say;

/// The humidity that was noted over the sessions.
std::string air_text(const ledger::PlateHistory& history) {
    std::optional<double> low, high;
    for (const ledger::SessionHistory& session : history.sessions)
        if (const auto& humidity = session.session.humidity_pct) {
            low = std::min(low.value_or(*humidity), *humidity);
            high = std::max(high.value_or(*humidity), *humidity);
        }
    if (!low)
        return say("air not noted");
    const std::string from = figure(*low, 0), to = figure(*high, 0);
    return from == to ? say("air at {} % RH", from) : say("air from {} to {} % RH", from, to);
}

} // namespace

std::string title_of(const ledger::PlateHistory& history) {
    const auto& sessions = history.sessions;
    if (sessions.empty())
        return history.plate.label;
    const std::string from = base::local_date(sessions.front().session.begun),
                      to = base::local_date(sessions.back().session.begun);
    return fmt::format("{}; {}; {}", history.plate.label,
                       from == to ? from : say("{} to {}", from, to), air_text(history));
}

plot::Chart drift_chart_of(const PlateSheet& sheet) {
    plot::Chart chart = plot::drift_chart(sheet.chart, plot::paper_palette());
    if (!sheet.history.sessions.empty())
        chart.title = title_of(sheet.history);
    return chart;
}

void draw_drift(const PlateSheet& sheet, const plot::Box& box, plot::Canvas& canvas) {
    plot::draw(drift_chart_of(sheet), box, canvas, plot::paper_palette(),
               {.text_height = 8.4, .line_scale = 0.75});
}

void draw_map(const PlateSheet& sheet, const plot::Box& box, plot::Canvas& canvas) {
    plot::draw(sheet.map_picture, box, canvas, plot::paper_palette(),
               {.text_height = 8.4, .line_scale = 0.75});
}

} // namespace platewright::report
