#include "bench/engine_state.hpp"

#include <algorithm>

namespace platewright::bench {
namespace {

using wording::say;

constexpr double k_room_s = 3.0; // of quiet, for what is said of the room

template <class... F>
struct Overloaded : F... {
    using F::operator()...;
};

} // namespace

void Engine::State::refresh_inputs() { now.inputs = live_input.inputs(); }

void Engine::State::changed(std::string_view table) {
    list_ledger();
    workbench.reload();
    stock.reload();
    if (table == "tap")
        workbench.settle();
}

void Engine::State::heal(const Corrected& corrected) {
    workbench.heal(corrected);
    list_ledger();
    stock.reload();
}

void Engine::State::put_down() {
    ringing.reset();
    copies.want(); // what was done in the session before is copied
    now.tap.reset();
    now.study.reset();
    taken_back.clear();
    strike_at(taps::Spot::unknown);
}

void Engine::State::open_plate(ledger::Id plate) {
    keep_named_pass();
    carving.forget();
    workbench.open_plate(plate);
    put_down();
    if (!store.read_only())
        remember_plate(store, plate);
}

Engine::State::Made Engine::State::newest() const {
    ledger::Id instrument = 0;
    for (const ledger::InstrumentSummary& one : *now.instruments)
        instrument = std::max(instrument, one.instrument.id);
    return {instrument, workbench.plate(), workbench.session()};
}

void Engine::State::execute(const Command& command) {
    std::optional<Undo> undo;
    if (!store.read_only())
        undo = undo_of(command, store, workbench.history(), workbench.session());
    const Made before = newest();
    act(command);
    if (undo)
        remember(*std::move(undo), before);
}

void Engine::State::remember(Undo undo, const Made& before) {
    if (auto* made = std::get_if<command::Bin>(&undo.back); made != nullptr && made->id == 0) {
        const Made after = newest();
        const auto of = [made](const Made& all) {
            return made->table == "session" ? all.session
                   : made->table == "plate" ? all.plate
                                            : all.instrument;
        };
        made->id = of(after);
        if (made->id == of(before))
            return; // nothing was made: an empty session went on
    }
    undos.push_back(std::move(undo));
    if (undos.size() > k_most_undos)
        undos.erase(undos.begin());
}

void Engine::State::undo_last() {
    if (undos.empty())
        return notice(say("There is nothing to undo."), false);
    const Undo undo = std::move(undos.back());
    undos.pop_back();
    if (acts_on_the_open_one(undo.back))
        return_to(undo);
    act(undo.back);
    list_kept();
    notice(say("Undone: {}.", undo.what), false);
}

void Engine::State::return_to(const Undo& undo) {
    if (undo.plate != workbench.plate())
        open_plate(undo.plate);
    if (undo.session != 0 && undo.session != workbench.session())
        workbench.open_session(undo.session), put_down();
}

void Engine::State::undo_import() {
    const auto undone = store.undo_import();
    if (!undone)
        throw base::Failure(undone.fault().what);
    changed("tap");
    list_kept();
    notice(say("Taken out again: what {} had brought.", undone->file), false);
}

bool Engine::State::is_called_off() {
    const std::lock_guard lock(door);
    return std::erase_if(commands, [](const Command& command) {
               return std::holds_alternative<command::StopWork>(command);
           }) > 0;
}

void Engine::State::run_errand(const Errand& errand) {
    if (errand.writes && store.read_only())
        throw base::Failure(
            say("The ledger can be read here, but nothing is kept: {}.", store.why_read_only()));
    errands.run(errand, store, [&] {
        now.errand = errands.view();
        publish_as_is();
        return !is_called_off();
    });
    if (errand.writes)
        changed("tap"), list_kept();
}

void Engine::State::act(const Command& command) {
    copies.note_change();
    std::visit(
        Overloaded{
            [&](const command::SaveInstrument& c) { save_instrument(c.instrument); },
            [&](const command::SavePlate& c) { save_plate(c.plate); },
            [&](const command::OpenPlate& c) { open_plate(c.plate); },
            [&](const command::BeginSession& c) { begin_session(c.session); },
            [&](const command::SaveSession& c) { workbench.save_session(c.session), changed(); },
            [&](const command::OpenSession& c) { workbench.open_session(c.session), put_down(); },
            [&](const command::UndoTap&) { undo_tap(); },
            [&](const command::CountTap& c) { count_tap(c.tap); },
            [&](const command::StrikeAt& c) { strike_at(c.spot); },
            [&](const command::RedoTap&) { redo_tap(); },
            [&](const command::PlayTap& c) { play_tap(c.tap); },
            [&](const command::StudyTap& c) { study_tap(c.tap); },
            [&](const command::HearRoom&) {
                live_input.collect_room(k_room_s), now.hearing_room = live_input.hears();
            },
            [&](const command::SetHabits& c) { set_habits(c.habits); },
            [&](const command::NameMode& c) { workbench.name_mode(c.frequency_hz, c.number); },
            [&](const command::AddReference& c) {
                store.add_reference(c.session, c.label), list_ledger();
            },
            [&](const command::RemoveReference& c) {
                store.remove_reference(c.reference), list_ledger();
            },
            [&](const command::CompareWith& c) { workbench.compare_with(c.session); },
            [&](const command::ChooseInput& c) { choose_input(c.choice); },
            [&](const command::ChooseBand& c) { choose_band(c.band); },
            [&](const command::Listen& c) { set_listening(c.on); },
            [&](const command::RefreshInputs&) { refresh_inputs(); },
            [&](const command::SayAgain&) { changed(); },
            [&](const command::SetAir& c) { set_air(c); },
            [&](const command::ListKept&) { list_kept(); },
            [&](const command::UndoLast&) { undo_last(); },
            [&](const command::BeginWeighing& c) { workbench.begin_weighing(c.weighing); },
            [&](const command::EndWeighing&) { workbench.end_weighing(); },
            [&](const command::UndoImport&) { undo_import(); },
            [&](const command::RunErrand& c) { run_errand(c.errand); },
            [&](const command::HearRecorded& c) { hear_recorded(c.on); },
            [&](const command::StrikeRecorded&) { strike_recorded(); },
            [&](const command::SayFigures&) { say_figures(); },
            [&](const command::CopyNow&) { copies.want(); },
            [&](const command::Restore& c) { restore_copy(c.copy); },
            [&](const command::StopWork&) { carving.stop(), stock.stop(), errands.stop(); },
            [&](const auto& c) {
                if constexpr (requires { stock.execute(c); })
                    stock.execute(c);
                else if constexpr (requires { correct(store, c); })
                    heal(correct(store, c));
                else
                    carving.execute(c);
            },
        },
        command);
}

void Engine::State::save_instrument(const ledger::InstrumentRecord& instrument) {
    if (instrument.id != 0)
        return heal(correct(store, instrument));
    store.add(instrument);
    changed();
}

void Engine::State::save_plate(const ledger::PlateRecord& plate) {
    if (plate.id != 0)
        return heal(correct(store, plate));
    const ledger::Id id = store.add(plate);
    list_ledger();
    open_plate(id);
}

void Engine::State::begin_session(ledger::SessionRecord session) {
    if (session.plate == 0)
        session.plate = workbench.plate();
    if (session.plate == 0)
        throw base::Failure(say("No plate is open: make or open one before its session."));
    if (workbench.open_session_is_empty())
        return notice(say("The session shown has no taps yet: it goes on."), false);
    if (auto doubt = date_in_doubt(*now.instruments, base::now()))
        notice(std::move(*doubt), true);
    put_down();
    keep_named_pass();
    workbench.begin_session(session);
    list_ledger();
}

void Engine::State::undo_tap() {
    if (const ledger::Id undone = workbench.undo_tap(); undone != 0)
        taken_back.push_back(undone);
    else
        notice(say("There is no tap to take back in this session."), false);
    now.tap.reset();
}

void Engine::State::count_tap(ledger::Id tap) {
    if (!workbench.vouch_for(tap))
        return notice(say("No tap is in question."), false);
    if (now.tap && now.tap->record.id == tap) {
        now.tap->record.verdict = taps::Verdict::vouched;
        now.tap->fate = TapFate::kept;
    }
    keep_count();
}

void Engine::State::redo_tap() {
    if (taken_back.empty())
        return notice(say("No tap was taken back in this session."), false);
    store.unbin("tap", taken_back.back());
    taken_back.pop_back();
    changed("tap");
}

void Engine::State::play_tap(ledger::Id tap) {
    voice.hush();
    now.playing = 0;
    if (const auto kept = workbench.tap_with_sound(tap)) {
        voice.play(kept->second);
        now.playing = tap;
    }
}

void Engine::State::study_tap(ledger::Id tap) {
    now.study.reset();
    if (const auto kept = workbench.tap_with_sound(tap)) {
        auto study =
            std::make_shared<TapStudy>(study_of(kept->second, kept->first.partials, fit.high_hz));
        study->tap = tap;
        study->session = kept->first.session;
        now.study = std::move(study);
    }
}

void Engine::State::choose_input(const audio::InputChoice& choice) {
    now.chosen = choice;
    if (!store.read_only())
        remember_input(store, choice);
    take_all(live_input.close());
    live_input.want(true);
}

void Engine::State::choose_band(const modes::BandChoice& band) {
    if (!store.read_only())
        remember_band(store, band);
    now.chosen_band = band;
}

void Engine::State::follow_band() {
    modes::InstrumentKind kind = modes::InstrumentKind::violin;
    modes::Part part = modes::Part::back;
    if (const auto plate = workbench.view()) {
        kind = plate->history.instrument.kind;
        part = plate->history.plate.part;
    }
    now.band = modes::band_of(kind, part, now.chosen_band);
    if (now.band.low_hz == fit.low_hz && now.band.high_hz == fit.high_hz)
        return;
    fit.low_hz = now.band.low_hz;
    fit.high_hz = now.band.high_hz;
    take_all(live_input.look_in(fit));
    workbench.look_in(fit);
    publish();
}

void Engine::State::set_air(const command::SetAir& c) {
    if (!is_room_air(c.air))
        throw base::Failure(say("That is no room's air. Nothing was changed."));
    if (!store.read_only())
        remember_air(store, c.air);
    now.air = c.air;
    now.in_air = c.on;
    workbench.set_air(c.on ? std::optional{c.air} : std::nullopt);
}

void Engine::State::set_listening(bool on) {
    live_input.want(on);
    if (!on)
        take_all(live_input.close());
}

} // namespace platewright::bench
