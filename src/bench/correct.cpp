#include "bench/correct.hpp"

#include "base/clock.hpp"
#include "bench/settings.hpp"
#include "modes/usual_band.hpp"
#include "trends/mass_check.hpp"
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

/// A stage or a mass that can't be the other plate's.
std::optional<base::Fault> fault_in_move(const ledger::Store& store,
                                         const command::MoveSession& c) {
    const auto from = store.plate_of_session(c.session);
    const auto history = from ? store.history(*from) : std::nullopt;
    const auto other = store.history(c.plate);
    if (!history || !other)
        return std::nullopt; // said by the ledger
    const auto session =
        std::ranges::find(history->sessions, c.session, [](const auto& s) { return s.session.id; });
    if (session == history->sessions.end())
        return std::nullopt;
    const auto is_body = [](const ledger::PlateHistory& of) {
        return of.plate.part == modes::Part::body;
    };
    const auto fault = is_body(*history) == is_body(*other) // else said by the ledger
                           ? fault_in_stage(other->plate.part, session->session)
                           : std::nullopt;
    return fault ? fault : trends::fault_in_mass(session->session, *other);
}

/// The sessions of a plate that is looked at in another band than it was.
void note_band(const ledger::Store& store, const std::optional<ledger::PlateHistory>& was,
               Corrected& corrected) {
    const auto is = was ? store.history(was->plate.id) : std::nullopt;
    if (is && have_other_bands(store, *was, *is))
        for (const ledger::SessionHistory& one : is->sessions)
            corrected.other_band.push_back(one.session.id);
}

} // namespace

bool have_other_bands(const ledger::Store& store, const ledger::PlateHistory& a,
                      const ledger::PlateHistory& b) {
    const modes::BandChoice chosen = remembered_band(store);
    const auto band = [&](const ledger::PlateHistory& of) {
        return modes::band_of(of.instrument.kind, of.plate.part, chosen);
    };
    return band(a) != band(b);
}

Corrected correct(ledger::Store& store, const command::MoveSession& c) {
    done(fault_in_move(store, c));
    const auto from = store.plate_of_session(c.session);
    const auto was = from ? store.history(*from) : std::nullopt;
    done(store.move_session(c.session, c.plate));
    Corrected corrected{{from.value_or(c.plate), c.plate}};
    const auto is = store.history(c.plate);
    if (was && is && have_other_bands(store, *was, *is))
        corrected.other_band = {c.session};
    return corrected;
}
Corrected correct(ledger::Store& store, const command::MovePlate& c) {
    const auto was = store.history(c.plate);
    done(store.move_plate(c.plate, c.instrument));
    Corrected corrected = of_plate(c.plate);
    note_band(store, was, corrected);
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
Corrected correct(ledger::Store& store, const ledger::PlateRecord& plate) {
    if (const auto history = store.history(plate.id))
        for (const ledger::SessionHistory& one : history->sessions)
            done(fault_in_stage(plate.part, one.session));
    const auto was = store.history(plate.id);
    store.update(plate);
    Corrected corrected = of_plate(plate.id);
    note_band(store, was, corrected);
    return corrected;
}
Corrected correct(ledger::Store& store, const ledger::InstrumentRecord& instrument) {
    Corrected corrected;
    std::vector<std::optional<ledger::PlateHistory>> were;
    for (const ledger::InstrumentSummary& one : store.overview())
        if (one.instrument.id == instrument.id)
            for (const ledger::PlateSummary& plate : one.plates) {
                corrected.plates.push_back(plate.plate.id);
                were.push_back(store.history(plate.plate.id));
            }
    store.update(instrument);
    for (const auto& was : were)
        note_band(store, was, corrected);
    return corrected;
}

} // namespace platewright::bench
