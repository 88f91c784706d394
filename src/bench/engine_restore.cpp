#include "bench/engine_state.hpp"
#include "bench/sound/read_lacking.hpp"
#include "ledger/mend/backups.hpp"
#include "ledger/mend/mend.hpp"

namespace platewright::bench {

void Engine::State::list_kept() {
    now.copies = ledger::copies_in(store.folder());
    now.binned = store.in_the_bin();
}

/// The ledger is let go of, exchanged, and opened again; nobody else on this thread looks at it
/// meanwhile.
void Engine::State::restore_copy(const std::string& name) {
    carving.stop();
    stock.stop();
    copies.close();
    const std::filesystem::path folder = store.folder();
    { const ledger::Store let_go{std::move(store)}; }
    const auto open_again = [&] {
        try {
            store = ledger::Store(folder);
        } catch (const base::Failure&) { // it can at least be looked at
            store = ledger::Store(folder, ledger::Access::read_only);
        }
    };
    std::optional<base::Result<ledger::RestoreReport>> done;
    try {
        done = ledger::restore(folder, name);
    } catch (...) {
        open_again();
        throw;
    }
    open_again();
    if (!*done)
        throw base::Failure(done->fault().what);
    const ledger::RestoreReport& report = **done;
    if (!store.read_only())
        read_lacking(store, fit);
    open_plate(remembered_plate(store).value_or(0));
    list_ledger();
    stock.reload();
    undos.clear(); // what they name may not be there any more
    list_kept();
    copies.note_change();
    notice(
        wording::say("The copy of {} was put back; {} taps of since then were found again from "
                     "their recordings. "
                     "What was there before lies in “{}”.",
                     report.copy.made ? base::local_date_time(*report.copy.made) : report.copy.name,
                     report.found.taps, report.laid_aside.string()),
        false);
}

} // namespace platewright::bench
