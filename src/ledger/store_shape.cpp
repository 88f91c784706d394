// The part of Store that keeps a plate's shape, thickness and plans.
#include "ledger/shape_columns.hpp"
#include "ledger/store_impl.hpp"

namespace platewright::ledger {

void Store::set_form(Id plate, const FormRecord& form) {
    Transaction transaction = impl_->change();
    Database& database = *impl_->database;
    const std::int64_t said =
        moment_after(database, "SELECT max(said_ms) FROM form WHERE plate = ?", plate);
    const Id id = insert_row(database, form, Beside{"plate", plate}, Beside{"said_ms", said});
    insert_list(database, form.rim, "form", id);
    insert_list(database, form.heights, "form", id);
    if (form.f_holes)
        insert_row(database, *form.f_holes, Beside{"form", id});
    for (std::size_t hole = 0; hole < form.f_hole_rims.size(); ++hole) {
        std::vector<FHoleRimPoint> rim;
        for (const plate::Point at : form.f_hole_rims[hole])
            rim.push_back({static_cast<int>(hole), at});
        insert_list(database, rim, "form", id);
    }
    if (form.bar)
        insert_row(database, *form.bar, Beside{"form", id});
    transaction.commit();
}

Id Store::set_thickness(Id session, const std::vector<plate::ThicknessReading>& readings) {
    Transaction transaction = impl_->change();
    Database& database = *impl_->database;
    const Id map = database.execute(
        "INSERT INTO thickness_map (session, made_ms) VALUES (?, ?)", session,
        moment_after(database, "SELECT max(made_ms) FROM thickness_map WHERE session = ?",
                     session));
    insert_list(database, readings, "map", map);
    transaction.commit();
    return map;
}

Id Store::add(const PinRecord& pin) { return impl_->add_record(pin); }
Id Store::add(const FlexRecord& flex) { return impl_->add_record(flex); }
Id Store::add(const WeighingRecord& weighing) { return impl_->add_record(weighing); }

Id Store::add(const PlanRecord& plan) {
    Transaction transaction = impl_->change();
    Database& database = *impl_->database;
    const Id id = insert_row(database, plan);
    insert_list(database, plan.modes, "plan", id);
    insert_list(database, plan.strokes, "plan", id);
    transaction.commit();
    return id;
}

} // namespace platewright::ledger
