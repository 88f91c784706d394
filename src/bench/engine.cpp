#include "bench/engine_state.hpp"

namespace platewright::bench {
using wording::say;

void Engine::State::listen() {
    Ear::Heard heard = ear.listen();
    if (heard.first_reading) {
        heard.first_reading->tap.spot = now.striking_at;
        show_reading(*heard.first_reading, workbench.picture_of(heard.first_reading->tap));
    }
    take_all(heard.taps);
    if (!heard.room.empty()) {
        now.room = room_report(heard.room, ear.status().sample_rate_hz);
        now.hearing_room = false;
    }
    if (heard.status_changed || !heard.room.empty())
        publish();
}

void Engine::State::take_all(const std::vector<HeardTap>& taps) {
    for (const HeardTap& tap : taps)
        guarded([&] { take(tap); });
}

void Engine::State::show_reading(const HeardTap& heard, const modes::Spectrum& picture) {
    now.tap = TapView{workbench.record_of(heard), true};
    now.revision += 1;
    now.plate = workbench.view_with(now.tap->record, picture);
    publish_as_is();
}

void Engine::State::take(HeardTap heard) {
    heard.tap.spot = now.striking_at;
    std::optional<modes::Spectrum> picture;
    if (heard.tap.verdict == taps::Verdict::accepted) {
        picture = workbench.picture_of(heard.tap);
        show_reading(heard, *picture);
    }
    const ledger::TapRecord record = workbench.keep(heard, std::move(picture));
    copies.note_change();
    now.tap = TapView{record, false};
    if (record.id != 0 && record.verdict == taps::Verdict::accepted)
        keep_count(), workbench.settle();
    else if (record.verdict == taps::Verdict::accepted && !store.read_only())
        notice(why_not_kept(), false);
    if (habits.answers_aloud)
        voice.answer(record.verdict == taps::Verdict::accepted);
}

void Engine::State::keep_count() {
    taken_back.clear();
    if (++now.good_taps_here >= habits.taps_a_spot && habits.taps_a_spot > 0 &&
        now.striking_at != taps::Spot::unknown)
        strike_at(next_sought(now.striking_at));
}

void Engine::State::strike_at(taps::Spot spot) {
    now.striking_at = spot;
    now.good_taps_here = 0;
}

std::string Engine::State::why_not_kept() const {
    if (workbench.plate() == 0)
        return std::string(say("Not kept: make or open a plate first."));
    if (workbench.session() == 0)
        return std::string(say("Not kept: begin a session first (N)."));
    return std::string(say("Not kept: this session is from another day. N begins today's; under Plates it can "
                           "be taken up again."));
}

Engine::Engine(EngineParams params) : state_(std::make_unique<State>(std::move(params))) { state_->start(); }

Engine::~Engine() {
    state_->thread.request_stop();
    state_->knocked.notify_all();
}

void Engine::send(Command command) {
    {
        const std::lock_guard lock(state_->door);
        state_->commands.push_back(std::move(command));
    }
    state_->knocked.notify_all();
}

std::shared_ptr<const Snapshot> Engine::snapshot() const {
    const std::lock_guard lock(state_->door);
    return state_->published;
}

} // namespace platewright::bench
