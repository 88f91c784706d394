// The part of Store that keeps a plate's shape, thickness and plans.
#include "ledger/shape_rows.hpp"
#include "ledger/store_impl.hpp"

#include <stdexcept>

namespace platewright::ledger {
namespace {

void keep_fittings(Database& database, Id form, const FormRecord& record) {
    if (const auto& hole = record.f_holes)
        database.execute("INSERT INTO form_f_hole VALUES (?, ?, ?, ?, ?, ?, ?, ?)", form,
                         hole->upper.x_mm, hole->upper.y_mm, hole->lower.x_mm, hole->lower.y_mm,
                         hole->slot_mm, hole->upper_eye_mm, hole->lower_eye_mm);
    if (const auto& bar = record.bar)
        database.execute("INSERT INTO form_bar VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)", form,
                         bar->lower.x_mm, bar->lower.y_mm, bar->upper.x_mm, bar->upper.y_mm,
                         bar->width_mm, bar->height_mm, bar->end_height_mm, bar->fullness,
                         bar->density_kg_m3);
}

} // namespace

void Store::set_form(Id plate, const FormRecord& form) {
    Transaction transaction = impl_->change();
    Database& database = *impl_->database;
    const Id id = database.execute(
        "INSERT INTO form (plate, said_ms, length_mm, upper_mm, waist_mm, lower_mm, arch_mm, "
        "edge_mm, long_fullness, cross_fullness, species, two_piece, right_density, "
        "right_stiffness) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        plate, moment_after(database, "SELECT max(said_ms) FROM form WHERE plate = ?", plate),
        form.size.length_mm, form.size.upper_mm, form.size.waist_mm, form.size.lower_mm,
        form.arching.arch_mm, form.arching.edge_mm, form.arching.long_fullness,
        form.arching.cross_fullness, form.species, form.two_piece, form.right_density,
        form.right_stiffness);
    int place = 0;
    for (const plate::Point p : form.rim)
        database.execute("INSERT INTO form_rim VALUES (?, ?, ?, ?)", id, place++, p.x_mm, p.y_mm);
    place = 0;
    for (const plate::HeightReading& r : form.heights)
        database.execute("INSERT INTO form_height VALUES (?, ?, ?, ?, ?)", id, place++, r.at.x_mm,
                         r.at.y_mm, r.height_mm);
    keep_fittings(database, id, form);
    transaction.commit();
}

Id Store::set_thickness(Id session, const std::vector<plate::ThicknessReading>& readings) {
    Transaction transaction = impl_->change();
    Database& database = *impl_->database;
    const Id map = database.execute(
        "INSERT INTO thickness_map (session, made_ms) VALUES (?, ?)", session,
        moment_after(database, "SELECT max(made_ms) FROM thickness_map WHERE session = ?",
                     session));
    int place = 0;
    for (const plate::ThicknessReading& r : readings)
        database.execute("INSERT INTO thickness VALUES (?, ?, ?, ?, ?, ?)", map, place++, r.at.x_mm,
                         r.at.y_mm, r.thickness_mm, r.name);
    transaction.commit();
    return map;
}

Id Store::add(const PinRecord& pin) {
    Transaction transaction = impl_->change();
    const Id id =
        impl_->database->execute("INSERT INTO pin (session, x_mm, y_mm, text) VALUES (?, ?, ?, ?)",
                                 pin.session, pin.at.x_mm, pin.at.y_mm, pin.text);
    transaction.commit();
    return id;
}

Id Store::add(const FlexRecord& flex) {
    Transaction transaction = impl_->change();
    const Id id = impl_->database->execute(
        "INSERT INTO flex (session, kind, span_mm, load_g, deflection_mm) VALUES (?, ?, ?, ?, ?)",
        flex.session, to_word(flex.kind), flex.span_mm, flex.load_g, flex.deflection_mm);
    transaction.commit();
    return id;
}

Id Store::add(const WeighingRecord& weighing) {
    return impl_->insert("INSERT INTO weighing (session, begun_ms, x_mm, y_mm, place, thing, "
                         "mass_g, place_sd_mm) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
                         weighing.session, weighing.begun.ms_since_epoch, weighing.at.x_mm,
                         weighing.at.y_mm, weighing.place, to_word(weighing.thing), weighing.mass_g,
                         weighing.place_sd_mm);
}

Id Store::add(const PlanRecord& plan) {
    Transaction transaction = impl_->change();
    Database& database = *impl_->database;
    const Id id = database.execute(
        "INSERT INTO plan (session, made_ms, model_version, pass_share, wood_g, summary) "
        "VALUES (?, ?, ?, ?, ?, ?)",
        plan.session, plan.made.ms_since_epoch, plan.model_version, plan.pass_share, plan.wood_g,
        plan.summary);
    int place = 0;
    for (const PlannedMode& m : plan.modes)
        database.execute("INSERT INTO plan_mode VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)", id, place++,
                         m.number, m.now_hz, m.want_hz, m.firmness, m.after_hz, m.after_sd_hz,
                         m.pass_hz, m.pass_sd_hz);
    place = 0;
    for (const PlannedStroke& s : plan.strokes)
        database.execute("INSERT INTO plan_stroke VALUES (?, ?, ?, ?, ?, ?)", id, place++,
                         s.middle.x_mm, s.middle.y_mm, s.mirrored, s.depth_mm);
    transaction.commit();
    return id;
}

} // namespace platewright::ledger
