#include "main/plate/weighing_text.hpp"

#include "base/clock.hpp"
#include "base/interval.hpp"
#include "main/console.hpp"
#include "modes/mode.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace platewright::plate {
// Their words in JSON.
NLOHMANN_JSON_SERIALIZE_ENUM(MeasurementKind, {{MeasurementKind::mass, "mass"},
                                               {MeasurementKind::flex, "flex"},
                                               {MeasurementKind::heights, "heights"},
                                               {MeasurementKind::re_hang, "re_hang"},
                                               {MeasurementKind::scales, "scales"},
                                               {MeasurementKind::rings, "rings"},
                                               {MeasurementKind::offcut, "offcut"}})
} // namespace platewright::plate

namespace platewright::cli {
namespace {

std::vector<trends::WeighingReview> all_of(const ShownWeighings& shown) {
    return trends::weighings_of(shown.history.sessions.at(shown.session), shown.study);
}

Json shift_forecast_json(const plate::ShiftForecast& f) {
    return {{"number", f.number},
            {"shift_hz", f.shift_hz},
            {"shift_95_hz", base::plus_minus(f.shift_sd_hz)}};
}

Json shift_json(const trends::WeighedModeShift& s) {
    return {{"number", s.number},
            {"off_hz", s.off_hz},
            {"on_hz", s.on_hz},
            {"drift_hz", s.drift_hz},
            {"ln_ratio", s.shift.log_ratio},
            {"ln_ratio_sd", s.shift.sd}};
}

Json weighing_json(const trends::WeighingReview& one) {
    Json json = one.record;
    json["modes"] = array_of(one.shifts, shift_json);
    if (one.is_modelled) {
        json["deviations"] = one.deviations;
        json["used"] = one.is_used;
    }
    return json;
}

Json sum_json(const plate::WeighedSum& sum) {
    return {{"number", sum.number}, {"ratio", sum.ratio}, {"sd", sum.sd}};
}

} // namespace

Json to_json(const ShownWeighings& shown) {
    Json all{{"schema", "platewright.weigh/1"},
             {"plate", plate_json(shown.history)},
             {"session", shown.history.sessions.at(shown.session).session.id},
             {"weighings", array_of(all_of(shown), weighing_json)}};
    if (shown.study) {
        all["sums"] = array_of(shown.study->fit.weighed_sums, sum_json);
        all["doubt"] = shown.study->fit.weighed_doubt;
    }
    return all;
}

void say(const ShownWeighings& shown) {
    say(fmt::format("{}, session of {}: weighed modes", shown.history.plate.label,
                    base::local_date(shown.history.sessions.at(shown.session).session.begun)));
    for (const trends::WeighingReview& one : all_of(shown)) {
        say(fmt::format("  {}: {:.2f} g of {} at {}x {:+.0f}, y {:.0f} mm", one.record.id,
                        one.record.mass_g, ledger::to_word(one.record.thing),
                        one.record.place.empty() ? "" : one.record.place + ", ", one.record.at.x_mm,
                        one.record.at.y_mm));
        for (const trends::WeighedModeShift& s : one.shifts)
            say(fmt::format("      {:16} {:7.2f} Hz bare, {:7.2f} with it: {:+.2f} ± {:.2f} Hz",
                            modes::mode_text(s.number), s.off_hz, s.on_hz, s.shift_hz(),
                            base::plus_minus(s.shift_sd_hz())));
        if (one.shifts.empty())
            say("      not enough yet: tap bare, with the mass, and bare again");
        if (one.is_modelled)
            say(one.is_used
                    ? fmt::format("      {:.1f} deviations off the model: counts in the fit",
                                  one.deviations)
                    : fmt::format("      {:.1f} deviations off the model: left out of the fit",
                                  one.deviations));
    }
    if (!shown.study)
        return say("  Without a thickness map there is no model: the weighings are kept.");
    for (const plate::WeighedSum& sum : shown.study->fit.weighed_sums)
        say(fmt::format("  {} weighs {:.2f} ± {:.2f} of what the model has at these places "
                        "(1 where the model is right)",
                        modes::mode_text(sum.number), sum.ratio, base::plus_minus(sum.sd)));
    if (!shown.study->fit.weighed_doubt.empty())
        say("  " + shown.study->fit.weighed_doubt);
}

Json next_json(const std::vector<plate::NextMeasurement>& next,
               const std::vector<std::string>& words) {
    Json list = Json::array();
    for (std::size_t k = 0; k < next.size(); ++k) {
        const plate::NextMeasurement& m = next[k];
        const bool is_mass = m.kind == plate::MeasurementKind::mass;
        list.push_back({{"what", m.kind},
                        {"number", m.number},
                        {"remains", m.remains},
                        {"minutes", m.minutes},
                        {"words", words.at(k)},
                        {"x_mm", or_null(is_mass, m.mass.at.x_mm)},
                        {"y_mm", or_null(is_mass, m.mass.at.y_mm)},
                        {"mass_g", or_null(is_mass, m.mass.mass_g)}});
    }
    return list;
}

void say_next(const std::vector<std::string>& words) {
    constexpr std::size_t k_most = 3;
    if (words.empty())
        return say(
            "\n  Nothing is worth measuring before it: no forecast would narrow by a tenth.");
    say("\n  Worth measuring before wood goes, best first for the minutes it takes:");
    for (std::size_t k = 0; k < std::min(k_most, words.size()); ++k)
        say("    " + words[k]);
    say("");
}

Json to_json(const trends::CutTrial& trial, std::span<const trends::BeyondGoal> beyond) {
    const auto goal_json = [](const trends::BeyondGoal& one) {
        return Json{{"number", one.goal.number}, {"goal_hz", one.goal.hz}, {"chance", one.chance}};
    };
    Json all{{"schema", "platewright.rehearse/1"},
             {"x_mm", trial.cut.at.x_mm},
             {"y_mm", trial.cut.at.y_mm},
             {"across_mm", trial.cut.across_mm},
             {"depth_mm", trial.cut.depth_mm},
             {"wood_g", trial.wood_g},
             {"thinnest_mm", trial.thinnest_mm},
             {"modes", array_of(trial.shifts, shift_forecast_json)},
             {"beyond", array_of(beyond, goal_json)},
             {"next", next_json(trial.next, trial.next_words)},
             {"cautions", trial.cautions}};
    if (!trial.by_taps.empty())
        all["modes_by_taps"] = array_of(trial.by_taps, shift_forecast_json);
    return all;
}

void say(const trends::CutTrial& trial, std::span<const trends::BeyondGoal> beyond,
         const std::string& plate) {
    say(fmt::format("{}: {:.2f} mm off the inside, {:.0f} mm across, at x {:+.0f}, y {:.0f} mm "
                    "takes {:.2f} g and leaves {:.2f} mm",
                    plate, trial.cut.depth_mm, trial.cut.across_mm, trial.cut.at.x_mm,
                    trial.cut.at.y_mm, trial.wood_g, trial.thinnest_mm));
    for (const plate::ShiftForecast& f : trial.shifts) {
        std::string line = fmt::format("  {:16} {:+6.1f} ± {:.1f} Hz", modes::mode_text(f.number),
                                       f.shift_hz, base::plus_minus(f.shift_sd_hz));
        for (const plate::ShiftForecast& before : trial.by_taps)
            if (before.number == f.number)
                line += fmt::format("   (by taps alone {:+.1f} ± {:.1f})", before.shift_hz,
                                    base::plus_minus(before.shift_sd_hz));
        say(line);
    }
    for (const trends::BeyondGoal& one : beyond)
        say("  " + trends::words_of(one));
    say_next(trial.next_words);
    say(trial.cautions, "");
}

} // namespace platewright::cli
