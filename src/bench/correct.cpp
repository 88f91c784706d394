#include "bench/correct.hpp"

#include "base/failure.hpp"
#include "trends/mass_check.hpp"

#include <algorithm>

namespace platewright::bench {
namespace {

std::string_view done(const std::optional<base::Fault>& fault, std::string_view table) {
    if (fault)
        throw base::Failure(fault->what);
    return table;
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

std::string_view correct(ledger::Store& store, const command::MoveSession& c) {
    if (auto fault = fault_in_move(store, c))
        return done(fault, {});
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

} // namespace platewright::bench
