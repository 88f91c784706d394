#include "main/plate/caliper_text.hpp"

#include "base/clock.hpp"
#include "base/text.hpp"
#include "main/console.hpp"
#include "main/json.hpp"
#include "plate/shape/spots.hpp"

#include <fmt/format.h>

namespace platewright::cli {

namespace {

using base::fixed;
using base::signed_fixed;

Json form_json(const ledger::FormRecord& f, const plate::PlateForm& shape) {
    Json json = f;
    json.update({{"measured_outline", !f.rim.empty()},
                 {"area_cm2", shape.outline.area_mm2() / 100},
                 {"measured_heights", f.heights.size()},
                 {"f_holes", !shape.f_holes.empty()},
                 {"measured_f_holes", f.f_hole_rims.size()},
                 {"bar", shape.bar.has_value()}});
    return json;
}

Json change_json(const trends::MapChange& c, const ledger::PlateHistory& history) {
    Json deepest = c.deepest;
    deepest["mm"] = c.deepest_mm;
    deepest["mm_sd"] = c.deepest_sd_mm;
    return {{"since", history.sessions[c.session].session},
            {"mean_mm", c.mean_mm},
            {"deepest", deepest},
            {"map_g", c.map_g},
            {"scales_g", c.scales_g}};
}

} // namespace

void print_json(const ShownMap& shown) {
    const ledger::PlateHistory& history = shown.history;
    const trends::MapReview& r = shown.review;
    const ledger::SessionHistory& session = history.sessions[r.session];
    const plate::ThicknessFacts& f = r.facts;
    Json thinnest = f.thinnest, next = f.next_reading;
    thinnest["mm"] = f.thinnest_mm;
    thinnest["mm_sd"] = f.thinnest_sd_mm;
    next["worst_mm_sd"] = f.worst_sd_mm;
    next["worst_after_mm_sd"] = f.worst_sd_after_mm;
    print({{"schema", "platewright.caliper/1"},
           {"plate", plate_json(history)},
           {"session", session.session},
           {"form", form_json(*history.form, r.model->form())},
           {"readings", session.thickness.readings},
           {"map",
            {{"mean_mm", f.mean_mm},
             {"middle_mm", f.middle_mm},
             {"edge_mm", f.edge_mm},
             {"middle_to_edge", f.middle_to_edge},
             {"left_less_right_mm", f.left_less_right_mm},
             {"thinnest", thinnest},
             {"next_reading", next}}},
           {"mass",
            {{"predicted_g", r.predicted_g},
             {"weighed_g", r.weighed_g},
             {"density_kg_m3", r.density_kg_m3},
             {"density_is_own", r.density_is_own},
             {"implied_density_kg_m3", r.implied_density_kg_m3}}},
           {"change", r.change ? change_json(*r.change, history) : Json(nullptr)},
           {"pins", session.pins},
           {"flexes", flexes_json(shown.flexes)},
           {"remarks", r.remarks}});
}

void print_text(const ShownMap& shown) {
    const ledger::PlateHistory& history = shown.history;
    const trends::MapReview& r = shown.review;
    const ledger::SessionHistory& session = history.sessions[r.session];
    say(fmt::format("{} ({}), {}: {} readings", history.plate.label, history.instrument.label,
                    base::local_date(session.session.begun), session.thickness.readings.size()));
    say(trends::facts_of(r, history));
    say("  " + trends::next_reading_words(r.facts));
    say(r.remarks);
    for (const ledger::PinRecord& pin : session.pins)
        say(fmt::format("  Pin {} at {}: {}", pin.id, plate::place_text(pin.at), pin.text));
    say_flexes(shown.flexes);
}

Json flexes_json(const std::vector<trends::FlexCheck>& checks) {
    return array_of(checks, [](const trends::FlexCheck& f) {
        Json json = f.record;
        json.update({{"model_mm", f.model_mm},
                     {"model_mm_sd", f.model_sd_mm},
                     {"deviations", f.deviations}});
        return json;
    });
}

void say_flexes(const std::vector<trends::FlexCheck>& checks) {
    Table table({"flex", "span mm", "load g", "measured mm", "model mm"});
    for (const trends::FlexCheck& f : checks)
        table.row({std::string(ledger::to_word(f.record.kind)), fixed(f.record.span_mm, 0),
                   fixed(f.record.load_g, 0), fixed(f.record.deflection_mm, 2),
                   wording::with_range(f.model_mm, f.model_sd_mm, 2)});
    if (!table.empty())
        say("\n" + table.text());
}

} // namespace platewright::cli
