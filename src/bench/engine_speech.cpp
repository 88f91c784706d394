// The part of the engine that speaks.
#include "bench/engine_state.hpp"
#include "speech/words.hpp"

namespace platewright::bench {

using wording::say;

namespace {

constexpr std::chrono::seconds k_pause{4}; // longer than between two taps of one hold

} // namespace

void Engine::State::say_figures() {
    const auto language = habits.voice.language.value_or(wording::spoken());
    const wording::Speaking speaking(language);
    const auto plate = workbench.view();
    std::string words(say("No session is on the bench."));
    if (plate && plate->session != 0) {
        std::vector<speech::SpokenMode> modes;
        for (const ModeView& figure : plate->figures)
            if (figure.now && modes.size() < 3) // modes 1, 2 and 5, or a body's
                modes.push_back({figure.number, figure.now->mode.frequency_hz});
        words = speech::spoken(modes, plate->decision);
    }
    voice.hush();
    if (!speaker.is_saying())
        live_input.mute(LiveInput::Muted::all);
    speaker.say(std::move(words), language, habits.voice.rate);
}

void Engine::State::say_when_enough() {
    if (!habits.says_figures || !tapped || std::chrono::steady_clock::now() - *tapped < k_pause)
        return;
    const auto plate = workbench.view();
    if (plate && lacks_word_of_model(plate->decision, carving.view().get()))
        return; // it is said once that is there
    tapped.reset();
    if (!plate || plate->session == 0 || plate->session == said_of ||
        plate->decision.advice == trends::Advice::tap)
        return;
    said_of = plate->session;
    say_figures();
}

void Engine::State::set_habits(const Habits& wanted) {
    const bool changes = knows_habits && wanted.says_figures != habits.says_figures;
    habits = wanted;
    knows_habits = true;
    if (changes)
        notice(std::string(
                   habits.says_figures
                       ? say("From now on the figures are said aloud when a session has enough "
                             "taps; G says them at any time, and Shift with G ends it.")
                       : say("The figures are no longer said by themselves; G still says them.")),
               false);
}

void Engine::State::tend_speech() {
    say_when_enough();
    if (!speaker.has_ended())
        return;
    live_input.unmute();
    if (std::string trouble = speaker.take_trouble(); !trouble.empty()) {
        notice(std::move(trouble), false);
        publish();
    }
}

} // namespace platewright::bench
