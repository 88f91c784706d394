#include "screen/decision_strip.hpp"

#include "screen/parts.hpp"

#include <string>

namespace platewright::screen {
namespace {
using plot::Box;
using plot::Weight;

constexpr double k_sentence = 30.0;
constexpr double k_pad = 8.0;

struct Grounds {
    plot::Colour ground, ink;
};

/// Stop stands out as a filled sheet, what has gone too far as a warning.
Grounds grounds_of(const trends::Decision& decision, const plot::Palette& p) {
    if (decision.step != trends::Step::stop) {
        return {p.panel, p.ink};
    }
    return decision.passed ? Grounds{p.caution, p.on_caution} : Grounds{p.accent, p.on_accent};
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

} // namespace

double decision_height(const Sight& sight, double width) {
    if (!sight.now.plate) {
        return 0.0;
    }
    const double scale = sight.look.scale, inside = width - 4.0 * k_pad * scale;
    const ImguiCanvas canvas = sight.canvas();
    const std::string sentence = trends::sentence_of(sight.now.plate->decision);
    const std::string reason = trends::reason_of(sight.now.plate->decision);
    return paragraph_height(canvas, sentence, inside,
                            sentence_size(canvas, sentence, inside, scale), Weight::bold) +
           (reason.empty() ? 0.0 : paragraph_height(canvas, reason, inside, k_body * scale)) +
           2.0 * k_pad * scale;
}

double draw_decision(const Sight& sight, const Box& box) {
    const double height = decision_height(sight, box.width());
    if (height == 0.0) {
        return 0.0;
    }
    const double scale = sight.look.scale;
    const trends::Decision& decision = sight.now.plate->decision;
    const Grounds look = grounds_of(decision, sight.palette());
    ImguiCanvas canvas = sight.canvas();
    sheet(canvas, sight.look, {box.left, box.top, box.right, box.top + height}, look.ground);
    Box words{box.left + 2.0 * k_pad * scale, box.top + k_pad * scale,
              box.right - 2.0 * k_pad * scale, box.top + height};
    const std::string sentence = trends::sentence_of(decision);
    words.top +=
        paragraph(canvas, sentence, words, sentence_size(canvas, sentence, words.width(), scale),
                  look.ink, Weight::bold);
    if (const std::string reason = trends::reason_of(decision); !reason.empty()) {
        paragraph(canvas, reason, words, k_body * scale, look.ink);
    }
    return height;
}

} // namespace platewright::screen
