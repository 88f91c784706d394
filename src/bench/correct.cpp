#include "bench/correct.hpp"

#include "base/failure.hpp"

namespace platewright::bench {
namespace {

std::string_view done(const std::optional<base::Fault>& fault, std::string_view table) {
    if (fault)
        throw base::Failure(fault->what);
    return table;
}

} // namespace

std::string_view correct(ledger::Store& store, const command::MoveSession& c) {
    return done(store.move_session(c.session, c.plate), "session");
}
std::string_view correct(ledger::Store& store, const command::MovePlate& c) {
    return done(store.move_plate(c.plate, c.instrument), "plate");
}
std::string_view correct(ledger::Store& store, const command::SetBegun& c) {
    return done(store.set_begun(c.session, c.begun), "session");
}
std::string_view correct(ledger::Store& store, const command::SetSpot& c) {
    return done(store.set_spot(c.tap, c.spot), "tap");
}
std::string_view correct(ledger::Store& store, const command::TakeOutReadings& c) {
    return done(store.take_out_readings(c.session, c.which), "session");
}
std::string_view correct(ledger::Store& store, const command::UndoImport&) {
    const auto undone = store.undo_import();
    return done(undone ? std::nullopt : std::optional(undone.fault()), "instrument");
}

} // namespace platewright::bench
