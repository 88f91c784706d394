// The part of the engine that gives recorded strikes, for a first walk without a plate at hand.
#include "bench/engine_state.hpp"

#include <functional>

namespace platewright::bench {

using wording::say;

int next_strike(const RecordedStrikes& recorded, int last, taps::Spot spot) {
    const int count = static_cast<int>(recorded.strikes.size());
    const auto first = [&](const std::function<bool(taps::Spot)>& fits) {
        for (int step = 1; step <= count; ++step)
            if (const int at = (last + step) % count;
                fits(recorded.strikes[static_cast<std::size_t>(at)].spot))
                return at;
        return -1;
    };
    if (spot == taps::Spot::unknown)
        return first([](taps::Spot) { return true; });
    const int there = first([&](taps::Spot one) { return one == spot; });
    return there >= 0 || mode_sought(spot) == 0
               ? there
               : first([&](taps::Spot one) { return mode_sought(one) == mode_sought(spot); });
}

void Engine::State::hear_recorded(bool on) {
    if (!now.recorded)
        return;
    for (const ledger::InstrumentSummary& instrument : *now.instruments)
        for (const ledger::PlateSummary& one : instrument.plates)
            if (on && one.plate.label == params.recorded.plate && one.plate.id != workbench.plate())
                open_plate(one.plate.id);
    if (on && !now.references.empty()) // a goal, without which nothing is decided
        workbench.compare_with(now.references.front().session);
    take_all(live_input.close());
    now.recorded->on = on;
    last_strike = -1;
    live_input.hear_recorded(on ? &params.recorded : nullptr);
    if (!on)
        refresh_inputs(); // not listed while a recording stood in for the microphone
    live_input.want(true);
}

void Engine::State::strike_recorded() {
    if (!now.recorded || !now.recorded->on)
        return;
    const int next = next_strike(params.recorded, last_strike, now.striking_at);
    if (next < 0)
        return notice(say("Nobody struck there when this was recorded: go on to "
                          "another spot with Space."),
                      false);
    if (!live_input.strike(static_cast<std::size_t>(next)))
        return; // one still rings
    last_strike = next;
    const taps::Spot spot = params.recorded.strikes[static_cast<std::size_t>(next)].spot;
    if (now.striking_at != taps::Spot::unknown && now.striking_at != spot)
        strike_at(spot); // the end, or the edge, that was struck
}

} // namespace platewright::bench
