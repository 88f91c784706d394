#include "bench/engine_state.hpp"
#include "bench/session/figures.hpp"
#include "bench/session/fresh_session.hpp"
#include "bench/sound/listening.hpp"

namespace platewright::bench {
using wording::say;

void Engine::State::listen() {
    LiveInput::Heard heard = live_input.listen();
    if (heard.first_reading && taps::counts(heard.first_reading->tap.verdict)) {
        heard.first_reading->tap.spot = now.striking_at;
        heard.first_reading->picture = workbench.picture_of(heard.first_reading->tap);
        show_reading(*heard.first_reading);
    }
    take_all(heard.taps);
    for (std::string& words : words_of(heard.new_faults))
        notice(std::move(words), true);
    if (heard.reading_ended && now.tap && now.tap->fate == TapFate::ringing) { // it came to nothing
        ringing.reset();
        now.tap.reset();
        heard.status_changed = true;
    }
    if (!heard.room.empty()) {
        now.room = room_report(heard.room, live_input.status().sample_rate_hz);
        now.hearing_room = false;
    }
    if (heard.status_changed || !heard.room.empty())
        publish();
}

void Engine::State::take_all(const std::vector<HeardTap>& taps) {
    for (const HeardTap& tap : taps)
        guarded([&] { take(tap); });
}

TapView Engine::State::view_of(const HeardTap& heard) const {
    const auto plate = workbench.view();
    return {.record = workbench.record_of(heard),
            .fate = TapFate::ringing,
            .named = plate ? named_partials(plate->figures, heard.partials)
                           : std::vector<NamedPartial>{},
            .why_not_kept = {},
            .began_session = false,
            .answered = std::chrono::steady_clock::now()};
}

void Engine::State::show_reading(const HeardTap& heard) {
    now.tap = view_of(heard);
    ringing = Ringing{*heard.picture, nullptr, nullptr};
    publish();
}

void Engine::State::take(HeardTap heard) {
    heard.tap.spot = now.striking_at;
    if (workbench.judge(heard)) {
        heard.picture = workbench.picture_of(heard.tap);
        show_reading(heard);
    }
    const bool good = taps::rings(heard.tap.verdict);
    ringing.reset();
    if (good) {
        keep(std::move(heard));
    } else {
        now.tap = view_of(heard);
        now.tap->fate = TapFate::refused;
        now.tap->record = workbench.keep(std::move(heard));
    }
    if (habits.answers_aloud)
        voice.answer(good && now.tap->fate == TapFate::kept);
    if (good)
        tapped = last_good = std::chrono::steady_clock::now();
}

void Engine::State::keep(HeardTap heard) {
    TapView tap = view_of(heard);
    tap.fate = TapFate::not_kept;
    try {
        tap.began_session = begin_for_tap();
        tap.record = workbench.keep(std::move(heard));
        tap.force = workbench.newest_force();
        tap.fate = tap.record.id != 0 ? TapFate::kept : TapFate::not_kept;
        tap.why_not_kept = tap.fate == TapFate::kept ? std::string() : why_not_kept();
    } catch (const std::exception& trouble) {
        tap.why_not_kept = trouble.what();
        now.tap = std::move(tap);
        throw;
    }
    const bool kept = tap.fate == TapFate::kept;
    now.tap = std::move(tap);
    if (kept && taps::counts(now.tap->record.verdict)) {
        if (const int recognised = workbench.recognise(); recognised > 0)
            notice(wording::say_count(recognised,
                                      "{} earlier tap that hardly rang counts now: it rings like "
                                      "the others.",
                                      "{} earlier taps that hardly rang count now: they ring like "
                                      "the others."),
                   true);
        workbench.settle(), keep_count();
    }
}

bool Engine::State::begin_for_tap() {
    const ledger::PlateHistory* history = workbench.history();
    if (history == nullptr || store.read_only() || workbench.takes_taps())
        return false;
    taken_back.clear();
    keep_named_pass();
    workbench.begin_session(fresh_session(*workbench.history()));
    list_ledger();
    return true;
}

void Engine::State::keep_count() {
    taken_back.clear();
    if (++now.good_taps_here >= habits.taps_a_spot && habits.taps_a_spot > 0 &&
        now.striking_at != taps::Spot::unknown)
        strike_at(spot_after(now.striking_at));
}

/// Where the decision asks for a tap, once a mode has enough for its decision at this spot: who
/// goes by the sentence is not to be counted elsewhere. Else on the round that seeks modes 5, 2
/// and 1.
taps::Spot Engine::State::spot_after(taps::Spot spot) const {
    const auto plate = workbench.view();
    if (habits.taps_a_spot >= trends::k_least_taps && plate &&
        plate->decision.advice == trends::Advice::tap &&
        plate->decision.spot != taps::Spot::unknown)
        return plate->decision.spot;
    return next_sought(spot);
}

void Engine::State::strike_at(taps::Spot spot) {
    now.striking_at = spot;
    now.good_taps_here = 0;
}

std::string Engine::State::why_not_kept() const {
    if (store.read_only())
        return wording::say("The ledger can be read here, but nothing is kept: {}.",
                            store.why_read_only());
    return say("Make or open a plate first (F4).");
}

Engine::Engine(EngineParams params) : state_(std::make_unique<State>(std::move(params))) {
    state_->start();
}

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
