#include "trends/model/measure_next.hpp"

#include "base/interval.hpp"
#include "modes/mode.hpp"
#include "plate/shape/spots.hpp"
#include "trends/review/flex_review.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::trends {
namespace {

using wording::figure;
using wording::say;

constexpr double k_flex_load_g = 500.0;
constexpr double k_lengthwise_share = 0.85, k_crosswise_share = 0.7; // of length, of lower bout

std::string gain_words(const plate::NextMeasurement& m,
                       std::span<const plate::ShiftForecast> forecasts) {
    for (const plate::ShiftForecast& f : forecasts)
        if (f.number == m.number) {
            const double was = base::plus_minus(f.shift_sd_hz);
            return say("{}: ± {} Hz would be ± {} Hz; about {} min.", modes::mode_text(m.number),
                       figure(was, 1), figure(m.remains * was, 1), figure(m.minutes, 0));
        }
    return {};
}

} // namespace

plate::Measurable measurable_on(const PlateStudy& study) {
    plate::Measurable what;
    const plate::Outline& outline = study.model->form().outline;
    what.mass_places = plate::mass_places(outline);
    // a hundredth of the plate, in half grams
    what.mass_g = std::max(0.5, std::round(0.02 * study.state.mass_g) / 2.0);
    what.has_rings = study.has_rings;
    what.has_heights = !study.model->form().heights.empty();
    what.is_weighed = study.as_of.mass_g.has_value();
    for (const ledger::FlexKind kind : ledger::k_flex_kinds) {
        const bool is_read = std::ranges::any_of(
            study.flexes, [&](const FlexCheck& check) { return check.record.kind == kind; });
        ledger::FlexRecord record;
        record.kind = kind;
        record.span_mm = kind == ledger::FlexKind::crosswise
                             ? std::round(k_crosswise_share * outline.size.lower_mm)
                             : std::round(k_lengthwise_share * outline.size.length_mm);
        record.load_g = k_flex_load_g;
        record.deflection_mm = 1.0;
        if (const auto reading = flex_reading(record, outline); !is_read && reading)
            what.flexes.push_back(*reading);
    }
    return what;
}

std::string what_words(const plate::NextMeasurement& m, const plate::Measurable& what) {
    switch (m.kind) {
    case plate::MeasurementKind::mass:
        return say("Lay {} g at {}, tap, take it off, tap.", figure(m.mass.mass_g, 1),
                   plate::place_text(m.mass.at));
    case plate::MeasurementKind::flex:
        return say("Bend it: {}, {} g.", what.flexes[m.flex].name,
                   figure(what.flexes[m.flex].load_g, 0));
    case plate::MeasurementKind::heights: {
        std::string places;
        for (const plate::Point& p : m.heights)
            places += (places.empty() ? "" : ", ") + figure(p.y_mm, 0);
        return say("Read the height of the outside on the centre line, {} mm from the lower end.",
                   places);
    }
    case plate::MeasurementKind::re_hang:
        return say("Hang it anew and tap it again.");
    case plate::MeasurementKind::scales:
        return say("Weigh the plate.");
    case plate::MeasurementKind::offcut:
        return say("Tap and weigh a bar of the same wood, if there is an offcut.");
    case plate::MeasurementKind::rings:
        return say("Look at the end grain, and type how far the rings lean off upright (Shape).");
    }
    return {};
}

std::vector<std::string> words_of(const std::vector<plate::NextMeasurement>& next,
                                  const plate::Measurable& what,
                                  std::span<const plate::ShiftForecast> forecasts) {
    std::vector<std::string> words;
    for (const plate::NextMeasurement& m : next)
        words.push_back(what_words(m, what) + " " + gain_words(m, forecasts));
    return words;
}

} // namespace platewright::trends
