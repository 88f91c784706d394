#include "bench/session/correct.hpp"

#include "base/clock.hpp"
#include "bench/settings.hpp"
#include "trends/review/mass_check.hpp"
#include "wording/say.hpp"

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

/// A stage that the part never is at.
std::optional<base::Fault> fault_in_stage(modes::Part part, const ledger::SessionRecord& session) {
    if (modes::suits(part, session.stage))
        return std::nullopt;
    return base::Fault{wording::say(
        "The session of {} is at the stage \"{}\", which this part ({}) "
        "never has. Nothing was changed.",
        base::local_date(session.begun), modes::to_text(session.stage), modes::to_text(part))};
}

/// A stage or a mass that can't be of that plate.
std::optional<base::Fault> fault_in(const ledger::SessionRecord& session,
                                    const ledger::PlateHistory& of) {
    const auto fault = fault_in_stage(of.plate.part, session);
    return fault ? fault : trends::fault_in_mass(session, of);
}

std::optional<base::Fault> fault_in_move(const ledger::Store& store,
                                         const command::MoveSession& c) {
    const auto history = store.history_with(c.session);
    const auto other = store.history(c.plate);
    const auto is_body = [](const ledger::PlateHistory& of) {
        return of.plate.part == modes::Part::body;
    };
    if (!history || !other)
        return std::nullopt; // said by the ledger
    const auto* session = ledger::session_in(history->sessions, c.session);
    if (session == nullptr)
        return std::nullopt;
    return is_body(*history) == is_body(*other) // else said by the ledger
               ? fault_in(session->session, *other)
               : trends::fault_in_mass(session->session, *other);
}

/// Where a plate's modes are looked for.
modes::UsualBand band_of(const ledger::Store& store, ledger::Id plate) {
    const auto of = store.history(plate);
    return of ? usual_band(store, *of) : modes::UsualBand{};
}

/// Notes a session that came from another plate.
Corrected moved(const ledger::Store& store, ledger::Id session, ledger::Id from, ledger::Id to) {
    Corrected corrected{{from, to}};
    if (band_of(store, from) != band_of(store, to))
        corrected.other_band = {session};
    return corrected;
}

/// Notes the sessions of a plate where it is looked at in another band than it was.
void note_band(const ledger::Store& store, ledger::Id plate, const modes::UsualBand& was,
               Corrected& corrected) {
    const auto is = store.history(plate);
    if (is && usual_band(store, *is) != was)
        for (const ledger::SessionHistory& one : is->sessions)
            corrected.other_band.push_back(one.session.id);
}

} // namespace

Corrected correct(ledger::Store& store, const command::MoveSession& c) {
    done(fault_in_move(store, c));
    const auto from = store.plate_of_session(c.session);
    done(store.move_session(c.session, c.plate));
    return moved(store, c.session, from.value_or(c.plate), c.plate);
}
Corrected correct(ledger::Store& store, const command::MovePlate& c) {
    const modes::UsualBand was = band_of(store, c.plate);
    done(store.move_plate(c.plate, c.instrument));
    Corrected corrected = of_plate(c.plate);
    note_band(store, c.plate, was, corrected);
    return corrected;
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
Corrected correct(ledger::Store& store, const ledger::SessionRecord& session) {
    if (const auto of = store.history(session.plate))
        done(fault_in(session, *of));
    const auto from = store.plate_of_session(session.id);
    store.update(session);
    return from && *from != session.plate ? moved(store, session.id, *from, session.plate)
                                          : of_plate(session.plate);
}
Corrected correct(ledger::Store& store, const ledger::PlateRecord& plate) {
    const auto was = store.history(plate.id);
    if (was)
        for (const ledger::SessionHistory& one : was->sessions)
            done(fault_in_stage(plate.part, one.session));
    store.update(plate);
    Corrected corrected = of_plate(plate.id);
    if (was)
        note_band(store, plate.id, usual_band(store, *was), corrected);
    return corrected;
}
Corrected correct(ledger::Store& store, const ledger::InstrumentRecord& instrument) {
    Corrected corrected;
    std::vector<modes::UsualBand> were;
    for (const ledger::InstrumentSummary& one : store.overview())
        if (one.instrument.id == instrument.id)
            for (const ledger::PlateSummary& plate : one.plates) {
                corrected.plates.push_back(plate.plate.id);
                were.push_back(band_of(store, plate.plate.id));
            }
    store.update(instrument);
    for (std::size_t i = 0; i < were.size(); ++i)
        note_band(store, corrected.plates[i], were[i], corrected);
    return corrected;
}

} // namespace platewright::bench
