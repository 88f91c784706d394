// The part of Workbench by which a correction heals all that rests on it: the ledger is then as it
// would be had everything been entered so.
#include "bench/session/correct.hpp"
#include "bench/session/session_names.hpp"
#include "bench/settings.hpp"
#include "bench/sound/again.hpp"
#include "bench/workbench.hpp"

#include <algorithm>

namespace platewright::bench {

void Workbench::save_session(const ledger::SessionRecord& session) {
    follow(correct(store_, session));
}

void Workbench::heal(const Corrected& corrected) {
    follow(corrected);
    reload();
}

void Workbench::follow(const Corrected& corrected) {
    read_in_other_band(corrected.other_band);
    if (corrected.session != 0)
        find_anew(corrected.plates.front(), corrected.session);
    for (const ledger::Id plate : corrected.plates)
        name_anew(plate);
}

/// As another plate than the one on the bench may want it.
modes::FitParams Workbench::in_band_of(const ledger::PlateHistory& history) const {
    const modes::UsualBand band = usual_band(store_, history);
    modes::FitParams fit = fit_;
    fit.low_hz = band.low_hz;
    fit.high_hz = band.high_hz;
    return fit;
}

/// Taps and modes as the plate's band now shows them.
void Workbench::read_in_other_band(const std::vector<ledger::Id>& sessions) {
    for (const ledger::Id session : sessions) {
        auto history = store_.history_with(session);
        if (!history)
            continue; // it lies in the bin
        std::erase_if(history->sessions,
                      [&](const auto& one) { return one.session.id != session; });
        keep_in_other_band(store_, analyse_again(store_, *history, in_band_of(*history)));
    }
}

/// Modes from the taps that count now, each where it is said to have been struck. What lies on the
/// bench stays there.
void Workbench::find_anew(ledger::Id plate, ledger::Id session) {
    const auto history = store_.history(plate);
    if (!history || !index_of(history->sessions, session))
        return; // it lies in the bin, with its plate or by itself
    Workbench aside(store_, in_band_of(*history));
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
    if (history)
        name_anew(*history);
}

bool Workbench::name_anew(ledger::PlateHistory& history) {
    const std::vector<ledger::SessionHistory> before = history.sessions;
    const auto profiles =
        history.plate.id == plate() ? profiles_ : std::vector<modes::SpotProfile>{};
    if (!name_all_anew(history, profiles))
        return false;
    for (std::size_t i = 0; i < before.size(); ++i)
        if (before[i].modes != history.sessions[i].modes)
            store_.set_modes(before[i].session.id, history.sessions[i].modes);
    return true;
}

/// What an earlier session's modes are called binds those after it, also when it is entered, or
/// named by the maker, after them. True where that changed a name.
bool Workbench::name_later_sessions() {
    return history_ && !store_.read_only() && history_->sessions.back().session.id != session_ &&
           name_anew(*history_);
}

} // namespace platewright::bench
