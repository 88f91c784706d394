#include "trends/cut_trial.hpp"

#include "base/interval.hpp"
#include "modes/mode.hpp"
#include "plate/spots.hpp"
#include "trends/flex_review.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace platewright::trends {
namespace {

using wording::figure;
using wording::say;

constexpr std::array k_named{1, 2, 5};
constexpr double k_least_left_mm = 1.0; // no plate is thinner anywhere
constexpr double k_least_across_mm = 15.0, k_most_across_mm = 300.0, k_most_depth_mm = 3.0;
constexpr double k_flex_load_g = 500.0;
constexpr double k_lengthwise_share = 0.85, k_crosswise_share = 0.7; // of length, of lower bout

std::string place_words(plate::Point p) {
    return say("x {}, y {} mm", wording::signed_figure(p.x_mm, 0), figure(p.y_mm, 0));
}

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

std::string what_words(const plate::NextMeasurement& m, const plate::Measurable& what) {
    switch (m.kind) {
    case plate::MeasurementKind::mass:
        return say("Lay {} g at {}, tap, take it off, tap.", figure(m.mass.mass_g, 1),
                   place_words(m.mass.at));
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
        return std::string(say("Hang it anew and tap it again."));
    case plate::MeasurementKind::scales:
        return std::string(say("Weigh the plate."));
    case plate::MeasurementKind::offcut:
        return std::string(say("Tap and weigh a bar of the same wood, if there is an offcut."));
    }
    return {};
}

std::optional<base::Fault> fault_in(const plate::Cut& cut, const plate::Outline& outline) {
    if (!outline.holds(cut.at))
        return base::Fault{say("{} is off the plate.", place_words(cut.at))};
    if (!(cut.depth_mm > 0.0) || cut.depth_mm > k_most_depth_mm)
        return base::Fault{say("A depth of {} mm can't be tried: give up to {} mm.",
                               figure(cut.depth_mm, 2), figure(k_most_depth_mm, 0))};
    if (!(cut.across_mm >= k_least_across_mm && cut.across_mm <= k_most_across_mm))
        return base::Fault{say("A place {} mm across can't be tried: give {} to {} mm.",
                               figure(cut.across_mm, 0), figure(k_least_across_mm, 0),
                               figure(k_most_across_mm, 0))};
    return std::nullopt;
}

} // namespace

plate::Measurable measurable_on(const PlateStudy& study, const ledger::PlateHistory& history) {
    plate::Measurable what;
    const plate::Outline& outline = study.model->form().outline;
    what.mass_places = plate::mass_places(outline);
    // a hundredth of the plate, in half grams
    what.mass_g = std::max(0.5, std::round(0.02 * study.state.mass_g) / 2.0);
    what.has_heights = !study.model->form().heights.empty();
    const ledger::SessionHistory& now = history.sessions.at(study.now);
    what.is_weighed = now.session.mass_g.has_value();
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

std::vector<std::string> words_of(const std::vector<plate::NextMeasurement>& next,
                                  const plate::Measurable& what,
                                  std::span<const plate::ShiftForecast> forecasts) {
    std::vector<std::string> words;
    for (const plate::NextMeasurement& m : next)
        words.push_back(what_words(m, what) + " " + gain_words(m, forecasts));
    return words;
}

std::optional<base::Fault> unfit_to_foresee(const PlateStudy& study) {
    if (!study.no_plan.empty())
        return base::Fault{study.no_plan};
    if (study.fit.is_plausible || study.fit.status == plate::FitStatus::nothing_to_fit)
        return std::nullopt; // without a tapped mode there is no target either
    const std::string why = !study.fit.doubt.empty()
                                ? study.fit.doubt
                                : std::string(say("No wood can have these modes with this map and "
                                                  "arching: is a mode named wrongly, or the map "
                                                  "in another unit?"));
    return base::Fault{say("There is no plan, for its forecasts would mislead. {}", why)};
}

base::Result<CutTrial> try_cut(const PlateStudy& study, const ledger::PlateHistory& history,
                               const plate::Cut& cut) {
    if (auto fault = unfit_to_foresee(study))
        return *std::move(fault);
    const plate::PlateModel& model = *study.model;
    if (auto fault = fault_in(cut, model.form().outline))
        return *std::move(fault);
    const plate::Rehearsal all =
        plate::rehearse(model, study.fit, study.state, study.thickness_mm, cut, k_named);
    if (all.thinnest_mm < k_least_left_mm)
        return base::Fault{
            say("That would leave {} mm: it can't be tried.", figure(all.thinnest_mm, 2))};
    CutTrial trial;
    trial.cut = cut;
    trial.wood_g = all.wood_g;
    trial.thinnest_mm = all.thinnest_mm;
    trial.shifts = all.shifts;
    if (study.fit_by_taps) {
        const auto state = plate::fitted_state(model, *study.fit_by_taps, study.thickness_mm,
                                               study.state.modes.shapes);
        trial.by_taps =
            plate::rehearse(model, *study.fit_by_taps, state, study.thickness_mm, cut, k_named)
                .shifts;
    }
    const plate::Measurable what = measurable_on(study, history);
    trial.next = plate::next_measurements(model, study.fit, study.thickness_mm, study.state,
                                          plate::fitted_state(model, study.fit,
                                                              study.thickness_mm - all.removal_mm,
                                                              study.state.modes.shapes),
                                          all.shifts, what);
    trial.next_words = words_of(trial.next, what, all.shifts);
    trial.cautions = {
        std::string(say("Wood taken off can't be put back: this is a forecast, and its ± an "
                        "interval of 95 %.")),
        std::string(say("Fix the work in a cradle and keep both hands behind the edge; local rules "
                        "and training decide."))};
    trial.record.session = history.sessions.at(study.now).session.id;
    trial.record.model_version = std::string(k_model_version);
    trial.record.pass_share = 1.0;
    trial.record.wood_g = all.wood_g;
    trial.record.summary =
        say("Tried on the model: {} mm off {} mm across, at {}.", figure(cut.depth_mm, 2),
            figure(cut.across_mm, 0), place_words(cut.at));
    for (const plate::ShiftForecast& f : all.shifts)
        for (const plate::TappedMode& tapped : study.tapped)
            if (tapped.number == f.number) {
                const double then = tapped.frequency_hz + f.shift_hz;
                trial.record.modes.push_back({f.number, tapped.frequency_hz, then, 1.0, then,
                                              f.shift_sd_hz, then, f.shift_sd_hz});
            }
    return trial;
}

} // namespace platewright::trends
