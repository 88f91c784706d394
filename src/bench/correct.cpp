#include "bench/correct.hpp"

#include "trends/mass_check.hpp"

#include <algorithm>

namespace platewright::bench {
namespace {

void done(const std::optional<base::Fault>& fault) {
    if (fault)
        throw CannotBe(fault->what);
}

Corrected of_plate(const std::optional<ledger::Id>& plate, ledger::Id session = 0) {
    return plate ? Corrected{{*plate}, session} : Corrected{};
}

/// What rests on something that lies in the bin now, or no more.
Corrected of_thing(const ledger::Store& store, const std::string& table, ledger::Id id) {
    if (table == "session")
        return of_plate(store.plate_of_session(id));
    const auto session = table == "tap" ? store.session_of_tap(id) : std::nullopt;
    return session ? of_plate(store.plate_of_session(*session), *session) : Corrected{};
}

/// A mass that can't be the other plate's.
std::optional<base::Fault> fault_in_move(const ledger::Store& store,
                                         const command::MoveSession& c) {
    const auto from = store.plate_of_session(c.session);
    const auto history = from ? store.history(*from) : std::nullopt;
    const auto other = store.history(c.plate);
    if (!history || !other)
        return std::nullopt; // said by the ledger
    const auto session =
        std::ranges::find(history->sessions, c.session, [](const auto& s) { return s.session.id; });
    return session == history->sessions.end() ? std::nullopt
                                              : trends::fault_in_mass(session->session, *other);
}

} // namespace

Corrected correct(ledger::Store& store, const command::MoveSession& c) {
    done(fault_in_move(store, c));
    const auto from = store.plate_of_session(c.session);
    done(store.move_session(c.session, c.plate));
    return {{from.value_or(c.plate), c.plate}};
}
Corrected correct(ledger::Store& store, const command::MovePlate& c) {
    done(store.move_plate(c.plate, c.instrument));
    return of_plate(c.plate);
}
Corrected correct(ledger::Store& store, const command::SetBegun& c) {
    done(store.set_begun(c.session, c.begun));
    return of_plate(store.plate_of_session(c.session));
}
Corrected correct(ledger::Store& store, const command::SetSpot& c) {
    done(store.set_spot(c.tap, c.spot));
    return of_thing(store, "tap", c.tap);
}
Corrected correct(ledger::Store& store, const command::TakeOutReadings& c) {
    done(store.take_out_readings(c.session, c.which));
    return {};
}
Corrected correct(ledger::Store& store, const command::Bin& c) {
    store.bin(c.table, c.id);
    return of_thing(store, c.table, c.id);
}
Corrected correct(ledger::Store& store, const command::Unbin& c) {
    store.unbin(c.table, c.id);
    return of_thing(store, c.table, c.id);
}
Corrected correct(ledger::Store& store, const ledger::PlateRecord& plate) {
    store.update(plate);
    return of_plate(plate.id);
}
Corrected correct(ledger::Store& store, const ledger::InstrumentRecord& instrument) {
    store.update(instrument);
    Corrected corrected;
    for (const ledger::InstrumentSummary& one : store.overview())
        if (one.instrument.id == instrument.id)
            for (const ledger::PlateSummary& plate : one.plates)
                corrected.plates.push_back(plate.plate.id);
    return corrected;
}

} // namespace platewright::bench
