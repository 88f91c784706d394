#include "screen/bench/decision_strip.hpp"

#include "screen/bench/weighing_words.hpp"
#include "screen/draw/parts.hpp"

#include <string>

namespace platewright::screen {
namespace {
using plot::Box;
using plot::Weight;

constexpr double k_sentence = 34.0, k_stop = 48.0;
constexpr double k_strip_pad = 6.0;
constexpr double k_bars_width = 16.0; // width of the slanted bars at a warning's left

struct Grounds {
    plot::Colour ground, ink;
    bool barred = false;
};

/// Whether the sentence is a stop: not while something else is waited for.
bool says_stop(const ViewContext& context) {
    return context.now.plate->decision.advice == trends::Advice::stop && !weighs_now(context) &&
           !waits_for_microphone(context) && !waits_for_model(context);
}

/// Stop stands out as a filled sheet, what has gone too far as a warning.
Grounds grounds_of(const ViewContext& context) {
    const trends::Decision& decision = context.now.plate->decision;
    const plot::Palette& p = context.palette();
    if (!says_stop(context)) {
        return {p.panel, p.ink};
    }
    // The colours of a grave notice the other way round stand farther from the panel than the
    // accent does: what is beyond the goal must not look milder than what is at it.
    return decision.passed ? Grounds{p.on_bad, p.bad, true} : Grounds{p.accent, p.on_accent};
}

/// The sentence on one line, or on two as large; smaller only where that is too many. What stands
/// larger than the rest stands on one line.
double sentence_size(const ImguiCanvas& canvas, const std::string& words, double width,
                     double scale, double most) {
    for (const double size : {k_stop, 42.0}) {
        if (size <= most && canvas.measure(words, size * scale, Weight::bold).width <= width) {
            return size * scale;
        }
    }
    for (const double size : {k_sentence, 30.0, 26.0, k_lead}) {
        if (size <= most && paragraph_height(canvas, words, width, size * scale, Weight::bold) <
                                3.0 * size * scale) {
            return size * scale;
        }
    }
    return k_body * scale;
}

struct Measured {
    std::string sentence, reason;
    double size, height;
};

Measured measured_strip(const ViewContext& context, double width, bool reasoned) {
    // Only the bench is read from two metres.
    const double most = context.place != Place::bench ? k_lead
                        : says_stop(context)          ? k_stop
                                                      : k_sentence;
    const double scale = context.look.scale;
    const bool barred = grounds_of(context).barred;
    const double inside = width - (4.0 * k_strip_pad + (barred ? k_bars_width : 0.0)) * scale;
    const ImguiCanvas canvas = context.canvas();
    Measured m{decision_sentence(context), reasoned ? decision_reason(context) : std::string(), 0.0,
               0.0};
    m.size = sentence_size(canvas, m.sentence, inside, scale, most);
    m.height = 2.0 * k_strip_pad * scale +
               paragraph_height(canvas, m.sentence, inside, m.size, Weight::bold);
    if (!m.reason.empty()) {
        m.height += paragraph_height(canvas, m.reason, inside, k_body * scale);
    }
    return m;
}

} // namespace

bool waits_for_microphone(const ViewContext& context) {
    return context.now.input.state == bench::InputState::lost &&
           trends::is_of_wood(context.now.plate->decision.advice);
}

bool waits_for_model(const ViewContext& context) {
    return bench::lacks_word_of_model(context.now.plate->decision, context.now.work.get());
}

bool weighs_now(const ViewContext& context) {
    const auto& weighing = context.now.plate->weighing;
    return context.place == Place::bench && weighing && is_under_way(*weighing);
}

std::string decision_sentence(const ViewContext& context) {
    if (weighs_now(context)) {
        return words_of(*context.now.plate->weighing).step + ".";
    }
    if (waits_for_microphone(context)) {
        return say("First the microphone, then wood.");
    }
    return waits_for_model(context) ? say("Wait: its model is being asked.")
                                    : trends::sentence_of(context.now.plate->decision);
}

std::string decision_reason(const ViewContext& context) {
    if (weighs_now(context)) {
        return words_of(*context.now.plate->weighing).sentence;
    }
    if (waits_for_microphone(context)) {
        return say("The advice stands here again once the plate can be heard.");
    }
    if (waits_for_model(context)) {
        return say("Whether wood may go, how much and where, stands here in some seconds.");
    }
    const trends::Decision& decision = context.now.plate->decision;
    const auto& work = context.now.work;
    const bool was_refused = trends::is_of_wood(decision.advice) && !decision.by_model && work &&
                             work->next && !work->next->no_plan.empty();
    const std::string reason = trends::reason_of(decision);
    return was_refused ? reason + ' ' + std::string(say("Why its model can't tell: F8, Next pass."))
                       : reason;
}

double decision_height(const ViewContext& context, double width, bool reasoned) {
    return measured_strip(context, width, reasoned).height;
}

double draw_decision(const ViewContext& context, const Box& box, bool reasoned) {
    const Measured said = measured_strip(context, box.width(), reasoned);
    const double scale = context.look.scale;
    const Grounds look = grounds_of(context);
    ImguiCanvas canvas = context.canvas();
    canvas.box(box, look.ground, 0.0);
    Box words = box;
    if (look.barred) {
        slanted_bars(canvas, take_left(words, k_bars_width * scale), look.ink, scale);
    }
    words = {words.left + 2.0 * k_strip_pad * scale, box.top + k_strip_pad * scale,
             box.right - 2.0 * k_strip_pad * scale, box.bottom};
    words.top += paragraph(canvas, said.sentence, words, said.size, look.ink, Weight::bold);
    if (!said.reason.empty()) {
        paragraph(canvas, said.reason, words, k_body * scale, look.ink);
    }
    return said.height;
}

} // namespace platewright::screen
