// The part of Store that keeps wood, what was carved from it, the maker's targets, and of a plate
// shape, thickness and plans.
#include "ledger/shape_columns.hpp"
#include "ledger/store_impl.hpp"
#include "ledger/tables/rows.hpp"
#include "ledger/wood_columns.hpp"

namespace platewright::ledger {
namespace {

void keep_wood_mode(Database& database, Id test, const WoodModeRecord& mode) {
    const std::int64_t made =
        moment_after(database, "SELECT max(made_ms) FROM wood_mode WHERE test = ?", test);
    insert_row(database, mode, Beside{"test", test}, Beside{"made_ms", made});
}

} // namespace

Id Store::add(const WoodRecord& wood) { return impl_->add_record(wood); }
void Store::update(const WoodRecord& wood) { impl_->update_record(wood); }

Id Store::add(const WoodTestRecord& test, std::span<const WoodModeRecord> modes) {
    Transaction transaction = impl_->change();
    Database& database = *impl_->database;
    const Id id = insert_row(database, test);
    for (const WoodModeRecord& mode : modes)
        keep_wood_mode(database, id, mode);
    transaction.commit();
    return id;
}

void Store::add_wood_modes(Id test, std::span<const WoodModeRecord> modes) {
    Transaction transaction = impl_->change();
    for (const WoodModeRecord& mode : modes)
        keep_wood_mode(*impl_->database, test, mode);
    transaction.commit();
}

Id Store::add_wood_tap(Id test, const TapRecord& record, const taps::Tap& tap) {
    Transaction transaction = impl_->change();
    const std::string uid = impl_->new_uid();
    WoodTapRecord kept{record};
    kept.session = test;
    impl_->keep_sound("wood_test", uid, kept, tap, {});
    const Id id = insert_row(*impl_->database, kept, Beside{"uid", uid});
    transaction.commit();
    return id;
}

void Store::set_carved(Id plate, std::optional<Id> wood) {
    impl_->add_word("INSERT INTO carving (plate, wood, said_ms) VALUES (?, ?, ?)",
                    "SELECT max(said_ms) FROM carving WHERE plate = ?", plate, wood);
}

void Store::set_target(Id plate, int number, std::optional<double> frequency_hz) {
    impl_->add_word("INSERT INTO target (plate, number, frequency_hz, said_ms) VALUES (?, ?, ?, ?)",
                    "SELECT max(said_ms) FROM target WHERE plate = ?", plate, number, frequency_hz);
}

std::vector<WoodHistory> Store::wood_stock() const {
    Database& database = *impl_->database;
    const Transaction one_moment{database, Transaction::Kind::read};
    Statement rows{database,
                   select_all<WoodRecord>() + "WHERE t.binned_ms IS NULL ORDER BY t.label, t.id"};
    std::vector<WoodHistory> stock;
    while (rows.step())
        stock.push_back(read_wood_history(database, read_row<WoodRecord>(rows)));
    return stock;
}

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
