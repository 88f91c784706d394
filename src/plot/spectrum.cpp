#include "plot/spectrum.hpp"

#include "wording/say.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace platewright::plot {
namespace {

using wording::say;

void add_line(Chart& chart, const SpectrumLine& line, const Pen& pen) {
    if (!line.points.empty()) {
        chart.curves.push_back({line.points, pen, line.name, {}});
    }
}

void set_axes(Chart& chart, double low_hz, double high_hz, Spacing spacing) {
    chart.across = {
        .title = say("frequency, Hz"), .low = low_hz, .high = high_hz, .spacing = spacing};
    double lowest = std::numeric_limits<double>::infinity(), highest = -lowest;
    for (const Curve& curve : chart.curves) {
        for (const Point p : curve.points) {
            if (p.x >= low_hz && p.x <= high_hz && std::isfinite(p.y)) {
                lowest = std::min(lowest, p.y);
                highest = std::max(highest, p.y);
            }
        }
    }
    const double top = (std::isfinite(highest) ? highest : 0.0) + 4.0;
    const double bottom =
        std::clamp(std::min(lowest, top) - 2.0, top - k_shown_range_db, top - 20.0);
    chart.up = {.title = say("level, dB"), .low = bottom, .high = top};
}

Signpost signpost(const ModePost& mode, const Palette& palette, Dash dash) {
    const ModeLook look = mode_look(mode.name, palette);
    return {mode.frequency_hz, mode.words, look.colour, look.shape, true, dash};
}

} // namespace

Chart spectrum_chart(const SpectrumPicture& picture, const Palette& palette) {
    Chart chart;
    chart.when_empty = say("Tap the plate: its spectrum appears here.");
    const auto ghosts = static_cast<double>(picture.ghosts.size());
    double place = 1.0;
    for (const SpectrumLine& ghost : picture.ghosts) {
        // The older, the fainter.
        add_line(chart, ghost, {palette.ghost.faded(0.4 + 0.5 * place / ghosts), 1.2, Dash::solid});
        place += 1.0;
    }
    add_line(chart, picture.mean, {palette.mean, 3.0, Dash::solid});
    add_line(chart, picture.last_tap, {palette.now, 1.6, Dash::solid});
    for (const ModePost& mode : picture.modes) {
        chart.signposts.push_back(signpost(mode, palette, Dash::dotted));
    }
    set_axes(chart, picture.low_hz, picture.high_hz, picture.spacing);
    return chart;
}

Chart beside_chart(const BesidePicture& picture, const Palette& palette) {
    Chart chart;
    chart.when_empty = say("Choose a reference to set this plate against.");
    add_line(chart, picture.reference, {palette.mean, 2.6, Dash::dashed});
    add_line(chart, picture.plate, {palette.now, 1.8, Dash::solid});
    for (const ModePost& mode : picture.reference_modes) {
        chart.signposts.push_back(signpost(mode, palette, Dash::dashed));
        chart.signposts.back().words.clear();
        chart.signposts.back().shaped = false;
    }
    for (const ModePost& mode : picture.plate_modes) {
        chart.signposts.push_back(signpost(mode, palette, Dash::solid));
    }
    set_axes(chart, picture.low_hz, picture.high_hz, picture.spacing);
    return chart;
}

} // namespace platewright::plot
