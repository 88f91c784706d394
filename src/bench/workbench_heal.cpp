// The part of Workbench by which a correction heals all that rests on it: the ledger is then as it
// would be had everything been entered so.
#include "bench/correct.hpp"
#include "bench/session_names.hpp"
#include "bench/workbench.hpp"

#include <algorithm>

namespace platewright::bench {

void Workbench::save_session(const ledger::SessionRecord& session) {
    check_mass(session);
    const auto was = store_.plate_of_session(session.id);
    store_.update(session);
    if (was && *was != session.plate)
        name_anew(*was);
    name_anew(session.plate);
}

void Workbench::heal(const Corrected& corrected) {
    if (corrected.session != 0)
        find_anew(corrected.plates.front(), corrected.session);
    for (const ledger::Id plate : corrected.plates)
        name_anew(plate);
    reload();
}

/// Modes from the taps that count now, each where it is said to have been struck. What lies on the
/// bench stays there.
void Workbench::find_anew(ledger::Id plate, ledger::Id session) {
    const auto history = store_.history(plate);
    if (!history || std::ranges::none_of(history->sessions, [&](const auto& one) {
            return one.session.id == session;
        }))
        return; // it lies in the bin, with its plate or by itself
    Workbench aside(store_, fit_);
    aside.open_plate(plate);
    if (plate == this->plate())
        aside.expect(profiles_);
    aside.open_session(session);
    aside.settle();
}

/// A corrected mass, stage, air or date changes what the sessions' modes are taken for: all names
/// are as they would be had it been entered so.
void Workbench::name_anew(ledger::Id plate) {
    auto history = store_.history(plate);
    if (!history)
        return;
    const std::vector<ledger::SessionHistory> before = history->sessions;
    const auto profiles = plate == this->plate() ? profiles_ : std::vector<modes::SpotProfile>{};
    if (!name_all_anew(*history, profiles))
        return;
    for (std::size_t i = 0; i < before.size(); ++i)
        if (before[i].modes != history->sessions[i].modes)
            store_.set_modes(before[i].session.id, history->sessions[i].modes);
}

} // namespace platewright::bench
