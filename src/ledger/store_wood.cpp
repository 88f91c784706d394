// The part of Store that keeps wood, what was carved from it, and the maker's targets.
#include "ledger/store_impl.hpp"
#include "ledger/tables/wood_rows.hpp"
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

} // namespace platewright::ledger
