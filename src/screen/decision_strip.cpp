#include "screen/decision_strip.hpp"

#include "screen/parts.hpp"

#include <string>

namespace platewright::screen {
namespace {
using plot::Box;
using plot::Weight;

constexpr double k_sentence = 30.0;
constexpr double k_pad = 6.0;

struct Grounds {
    plot::Colour ground, ink;
};

/// Stop stands out as a filled sheet, what has gone too far as a warning.
Grounds grounds_of(const trends::Decision& decision, const plot::Palette& p) {
    if (decision.advice != trends::Advice::stop) {
        return {p.panel, p.ink};
    }
    return decision.passed ? Grounds{p.caution, p.on_caution} : Grounds{p.accent, p.on_accent};
}

struct Words {
    std::string sentence, reason;
};

Words words_of(const Sight& sight) {
    return {trends::sentence_of(sight.now.plate->decision),
            trends::reason_of(sight.now.plate->decision)};
}

/// As large as its words have room for; on several lines where even the body's size has none.
double sentence_size(const ImguiCanvas& canvas, const std::string& words, double width,
                     double scale) {
    for (const double size : {k_sentence, k_lead}) {
        if (canvas.measure(words, size * scale, Weight::bold).width <= width) {
            return size * scale;
        }
    }
    return k_body * scale;
}

double height_of(const Sight& sight, const Words& said, double width) {
    const double scale = sight.look.scale, inside = width - 4.0 * k_pad * scale;
    const ImguiCanvas canvas = sight.canvas();
    const double reason =
        said.reason.empty() ? 0.0 : paragraph_height(canvas, said.reason, inside, k_body * scale);
    return reason + 2.0 * k_pad * scale +
           paragraph_height(canvas, said.sentence, inside,
                            sentence_size(canvas, said.sentence, inside, scale), Weight::bold);
}

} // namespace

double decision_height(const Sight& sight, double width) {
    return sight.now.plate ? height_of(sight, words_of(sight), width) : 0.0;
}

double draw_decision(const Sight& sight, const Box& box) {
    if (!sight.now.plate) {
        return 0.0;
    }
    Words said = words_of(sight);
    if (height_of(sight, said, box.width()) > box.height()) {
        said.reason.clear(); // what to do matters more than why
    }
    const double height = height_of(sight, said, box.width());
    if (height > box.height()) {
        return 0.0;
    }
    const double scale = sight.look.scale;
    const Grounds look = grounds_of(sight.now.plate->decision, sight.palette());
    ImguiCanvas canvas = sight.canvas();
    sheet(canvas, sight.look, {box.left, box.top, box.right, box.top + height}, look.ground);
    Box words{box.left + 2.0 * k_pad * scale, box.top + k_pad * scale,
              box.right - 2.0 * k_pad * scale, box.top + height};
    words.top += paragraph(canvas, said.sentence, words,
                           sentence_size(canvas, said.sentence, words.width(), scale), look.ink,
                           Weight::bold);
    if (!said.reason.empty()) {
        paragraph(canvas, said.reason, words, k_body * scale, look.ink);
    }
    return height;
}

} // namespace platewright::screen
