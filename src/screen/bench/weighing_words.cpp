#include "screen/bench/weighing_words.hpp"

#include "base/interval.hpp"
#include "screen/view_context.hpp"

namespace platewright::screen {

WeighingWords words_of(const bench::WeighingView& weighing) {
    const trends::WeighingProgress& p = weighing.progress;
    const std::string wanted = figure(trends::k_taps_each, 0);
    const ledger::WeighingRecord& w = weighing.record;
    switch (p.step) {
    case trends::WeighingStep::tap_bare:
        return {say("Tap it bare"), say("{} of {} taps without the mass. Leave the plate hanging.",
                                        figure(p.bare_before, 0), wanted)};
    case trends::WeighingStep::tap_with:
        return {say("Lay the mass on"),
                say("{} g at x {}, y {} mm, then tap: {} of {} with it.", figure(w.mass_g, 2),
                    wording::signed_figure(w.at.x_mm, 0), figure(w.at.y_mm, 0), figure(p.with, 0),
                    wanted)};
    case trends::WeighingStep::take_off:
        return {say("Take the mass off"),
                say("Then tap the bare plate again: {} of {}.", figure(p.bare_after, 0), wanted)};
    case trends::WeighingStep::done:
        break;
    }
    std::string sentence;
    for (const trends::WeighedModeShift& shift : weighing.shifts)
        sentence += (sentence.empty() ? "" : "; ") + words_of(shift);
    return {say("Weighed"), sentence};
}

std::string words_of(const trends::WeighedModeShift& shift) {
    return say("{}: {} to {} Hz ({} ± {})", modes::short_mode_text(shift.number),
               figure(shift.off_hz, 1), figure(shift.on_hz, 1),
               wording::signed_figure(shift.shift_hz(), 2),
               figure(base::plus_minus(shift.shift_sd_hz()), 2));
}

} // namespace platewright::screen
