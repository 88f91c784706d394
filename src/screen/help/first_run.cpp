#include "screen/help/first_run.hpp"

#include "screen/bench/verdict_band.hpp"
#include "screen/draw/parts.hpp"
#include "screen/fields/stack.hpp"
#include "screen/settings/status_line.hpp"

namespace platewright::screen {
namespace {
using plot::Box;
using plot::Weight;

/// A sheet with a numbered title; what is said on it flows down.
class Step {
public:
    Step(const ViewContext& context, const Box& box, int number, std::string_view title)
        : context_(context), scale_(context.look.scale), canvas_(context.canvas()) {
        sheet(canvas_, context.look, box);
        rest_ = inset(box, 16.0 * scale_);
        line(canvas_, std::to_string(number) + "  " + std::string(title),
             take_top(rest_, 32.0 * scale_),
             {.colour = context.palette().ink, .height = k_lead * scale_, .weight = Weight::bold});
        take_top(rest_, 6.0 * scale_);
    }
    void tell(std::string_view words, bool strong = false) {
        const auto& p = context_.palette();
        rest_.top += paragraph(canvas_, words, rest_, k_body * scale_, strong ? p.ink : p.faint_ink,
                               strong ? Weight::bold : Weight::regular) +
                     8.0 * scale_;
    }
    /// A button at the foot, from the left.
    bool button(std::string_view words, std::string_view key, Stress stress = Stress::plain) {
        if (foot_.width() <= 0.0) {
            foot_ = take_bottom(rest_, 46.0 * scale_);
        }
        const double width = canvas_.measure(words, k_body * scale_, Weight::bold).width +
                             canvas_.measure(key, k_small * scale_, Weight::bold).width +
                             64.0 * scale_;
        const bool pressed = press(context_, words, take_left(foot_, width), key, stress);
        take_left(foot_, 8.0 * scale_);
        return pressed;
    }
    Box take(double height) { return take_top(rest_, height * scale_); }

private:
    const ViewContext& context_;
    double scale_;
    ImguiCanvas canvas_;
    Box rest_;
    Box foot_;
};

void microphone(const ViewContext& context, const Box& box) {
    Step step(context, box, 1, say("A microphone"));
    const bench::InputStatus& input = context.now.input;
    const bool running = input.state == bench::InputState::running;
    if (step.button(say("Choose another"), "F5")) {
        context.place = Place::sound;
    }
    step.tell(running                 ? input.name
              : input.trouble.empty() ? say("Not listening")
                                      : input.trouble,
              true);
    draw_meter(context, step.take(40.0));
    step.take(8.0);
    step.tell(say("A plain measuring or studio microphone, a hand's breadth to half a metre from "
                  "the plate. Speak: the meter has to move."));
}

void room(const ViewContext& context, const Box& box) {
    Step step(context, box, 2, say("The room"));
    const bench::Snapshot& now = context.now;
    const bool running = now.input.state == bench::InputState::running;
    if (running && !now.hearing_room &&
        (step.button(say("Listen to the room"), "H") || context.keys.take(U'h'))) {
        context.send(bench::command::HearRoom{});
    }
    if (now.hearing_room) {
        step.tell(say("Three seconds of quiet, please."), true);
        return;
    }
    if (!now.room) {
        step.tell(say("How loud is it, does the mains hum, does the microphone reach down to 60 "
                      "Hz? Keep quiet for three seconds."));
        return;
    }
    const bench::RoomReport& report = *now.room;
    if (report.silent) {
        step.tell(
            say("Nothing at all arrives from {}: it is muted, turned down, or not the one (F5).",
                now.input.name),
            true);
        return;
    }
    step.tell(say("Noise {} dBFS from 40 to 2500 Hz.", signed_figure(report.noise_dbfs, 0)), true);
    step.tell(report.hum_hz
                  ? say("The mains hums at {} Hz, {} dB above what lies beside it: look for a "
                        "charger or a cable near the microphone. No mode is made of it.",
                        figure(*report.hum_hz, 0), figure(report.hum_db, 0))
                  : say("No hum of the mains stands out."));
    step.tell(report.reaches_60_hz
                  ? say("The microphone seems to reach down to 60 Hz.")
                  : say("Below 60 Hz it hears {} dB less than about 300 Hz: deep modes may be "
                        "missed; another microphone would help.",
                        figure(-report.low_end_db, 0)));
}

void practice(const ViewContext& context, const Box& box) {
    Step step(context, box, 3, say("A tap for practice"));
    step.tell(say("Hang up any plate or thin board and tap it with a knuckle: the answer shows "
                  "here. It is not kept."));
    draw_verdict_alone(context, step.take(86.0));
    if (context.now.tap && context.now.tap->fate != bench::TapFate::ringing &&
        !context.now.tap->record.partials.empty()) {
        std::string heard;
        for (std::size_t i = 0;
             i < std::min<std::size_t>(5, context.now.tap->record.partials.size()); ++i) {
            heard +=
                (i > 0 ? ", " : "") + figure(context.now.tap->record.partials[i].frequency_hz, 1);
        }
        step.take(8.0);
        step.tell(say("Heard: {} Hz.", heard), true);
    }
}

void plate(const ViewContext& context, const Box& box, std::string& demo) {
    Step step(context, box, 4, say("The first plate"));
    if (step.button(say("Enter an instrument"), "I", Stress::strong) || context.keys.take(U'i')) {
        context.place = Place::plates;
        context.keys.type_next(U'i'); // the plates' own key for it
        context.owed = 2;
    }
    if (context.outside.open_demo &&
        (step.button(say("Open the demo workshop"), "V") || context.keys.take(U'v'))) {
        demo = context.outside.open_demo(false);
    }
    step.tell(say("Everything begins with an instrument: a label, its kind, and then its top and "
                  "back as you come to work on them."));
    step.tell(!demo.empty()
                  ? demo
                  : say("Or look at a workshop that never was: the demo workshop is "
                        "invented, has a folder of its own, and leaves your ledger alone."),
              !demo.empty());
}

} // namespace

void FirstRun::draw(const ViewContext& context, Box area) {
    const double gap = 10.0 * context.look.scale;
    if (context.stacks) {
        const double height = 270.0 * context.look.scale;
        microphone(context, next_column(context, area, 0.0, height));
        room(context, next_column(context, area, 0.0, height));
        practice(context, next_column(context, area, 0.0, height));
        plate(context, next_column(context, area, 0.0, height), demo_);
        return;
    }
    Box upper = take_top(area, 0.5 * (area.height() - gap));
    take_top(area, gap);
    microphone(context, take_left(upper, 0.5 * (upper.width() - gap)));
    take_left(upper, gap);
    room(context, upper);
    practice(context, take_left(area, 0.5 * (area.width() - gap)));
    take_left(area, gap);
    plate(context, area, demo_);
}

} // namespace platewright::screen
