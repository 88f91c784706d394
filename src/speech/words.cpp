#include "speech/words.hpp"

#include "wording/say.hpp"

#include <cmath>
#include <fmt/format.h>

namespace platewright::speech {
namespace {

using wording::figure;
using wording::say;

/// A mode's name as a voice has to be given it: the trade's number alone, and signs as words.
std::string name(int number) {
    switch (number) {
    case modes::k_b1_minus:
        return say("B1 minus");
    case modes::k_b1_plus:
        return say("B1 plus");
    default:
        return number < modes::k_a0 ? std::to_string(number) : modes::short_mode_text(number);
    }
}

std::string deciding(const trends::Decision& d) {
    const double left = std::round(d.now_hz) - std::round(d.goal_hz);
    const std::string hz = figure(d.now_hz, 0);
    if (left > 0)
        return say("{}: {}, {} to go.", name(d.number), hz, figure(left, 0));
    if (left < 0)
        return d.of_reference
                   ? say("{}: {}, {} below the reference.", name(d.number), hz, figure(-left, 0))
                   : say("{}: {}, {} below its goal.", name(d.number), hz, figure(-left, 0));
    return d.of_reference ? say("{}: {}, at the reference.", name(d.number), hz)
                          : say("{}: {}, at its goal.", name(d.number), hz);
}

} // namespace

std::string spoken(std::span<const SpokenMode> modes, const trends::Decision& decision) {
    std::string words;
    if (decision.number != 0 && decision.now_hz > 0 && decision.goal_hz > 0) {
        words = deciding(decision);
    } else {
        for (const SpokenMode& mode : modes)
            words += fmt::format("{}{}: {}", words.empty() ? "" : ", ", name(mode.number),
                                 figure(mode.hz, 0));
        words += words.empty() ? "" : ".";
    }
    const std::string sentence = sentence_of(decision);
    return words.empty() ? sentence : words + " " + sentence;
}

} // namespace platewright::speech
