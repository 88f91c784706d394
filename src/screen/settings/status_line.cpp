#include "screen/settings/status_line.hpp"

#include "base/text.hpp"
#include "screen/draw/parts.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

namespace platewright::screen {
namespace {
using plot::Across;
using plot::Box;
using plot::Weight;

constexpr double k_lowest_dbfs = -72.0;
constexpr double k_step_db = 3.0;
constexpr int k_meter_steps = 24;
constexpr int k_loud_steps = 20;  // from −12 dBFS up: as loud as a strike should get
constexpr int k_limit_steps = 23; // the last step: at full scale

std::string state_text(const bench::InputStatus& input) {
    switch (input.state) {
    case bench::InputState::off:
        return say("not listening");
    case bench::InputState::missing:
        return say("no such input");
    case bench::InputState::lost:
        return say("input lost: comes back by itself");
    case bench::InputState::ended:
        return say("{} is over", input.name);
    case bench::InputState::running:
        break;
    }
    const std::string words = say("{}, {} kHz, channel {}", input.name,
                                  figure(input.sample_rate_hz / 1000.0, 1), input.channel + 1);
    return input.force_channel < 0 ? words : words + say(", force {}", input.force_channel + 1);
}

} // namespace

int meter_steps(double level_dbfs) {
    return std::clamp(static_cast<int>(std::floor((level_dbfs - k_lowest_dbfs) / k_step_db)), 0,
                      k_meter_steps);
}

std::string level_text(const bench::InputStatus& input) {
    return input.state == bench::InputState::running && meter_steps(input.level_dbfs) > 0
               ? signed_figure(input.level_dbfs, 0)
               : "\u2013";
}

void draw_meter(const ViewContext& context, const Box& box) {
    const plot::Palette& p = context.palette();
    const bench::InputStatus& input = context.now.input;
    const bool running = input.state == bench::InputState::running;
    const int lit = running ? meter_steps(input.level_dbfs) : 0;
    const double pitch = box.width() / k_meter_steps;
    const double gap = std::max(1.0, 0.18 * pitch);
    ImguiCanvas canvas = context.canvas();
    for (int i = 0; i < k_meter_steps; ++i) {
        const double left = box.left + i * pitch;
        // Taller towards full scale, so that height speaks as well as colour.
        const double rise = i >= k_limit_steps ? 0.0 : i >= k_loud_steps ? 0.12 : 0.25;
        const plot::Colour on = i >= k_limit_steps  ? p.on_bad
                                : i >= k_loud_steps ? p.mean
                                                    : p.mode_5;
        canvas.box({left, box.top + rise * box.height(), left + pitch - gap, box.bottom},
                   i < lit ? on : p.line, 1.0);
    }
    if (running && input.noise_dbfs > k_lowest_dbfs) {
        const double x =
            box.left + box.width() * (input.noise_dbfs - k_lowest_dbfs) / -k_lowest_dbfs;
        canvas.box({x - 1.0, box.top, x + 1.5 * context.look.scale, box.bottom + 3.0}, p.ink, 0.0);
    }
}

namespace {

/// What of all that the line could say is the most pressing, and whether it is bad.
std::pair<std::string, bool> most_pressing(const ViewContext& context, std::string_view plate) {
    const bench::InputStatus& input = context.now.input;
    if (input.state != bench::InputState::running) {
        return {input.trouble.empty() ? state_text(input) : input.trouble, false};
    }
    if (input.overruns > 0) {
        return {say_count(input.overruns, "sound lost {} time", "sound lost {} times"), true};
    }
    if (context.now.ledger_read_only) {
        return {say("Ledger is read-only"), true};
    }
    if (input.clipped) {
        return {say("full scale!"), true};
    }
    return {plate.empty() ? input.name : std::string(plate), false};
}

std::string_view listen_label(const ViewContext& context) {
    return context.now.input.state == bench::InputState::running ? say("Stop listening")
                                                                 : say("Listen");
}

void listen_button(const ViewContext& context, const Box& box) {
    const bool running = context.now.input.state == bench::InputState::running;
    if (press(context, listen_label(context), box, "L", running ? Stress::plain : Stress::strong) ||
        context.keys.take(U'l')) {
        context.send(bench::command::Listen{!running});
    }
}

void draw_short_status(const ViewContext& context, const Box& box, std::string_view plate) {
    const plot::Palette& p = context.palette();
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    Box rest = inset(box, 4.0 * scale);
    const bool running = context.now.input.state == bench::InputState::running;
    const double width =
        canvas.measure(listen_label(context), k_body * scale, Weight::bold).width + 60.0 * scale;
    listen_button(context, take_right(rest, width));
    take_right(rest, 10.0 * scale);
    if (running) {
        draw_meter(context, inset(take_left(rest, 120.0 * scale), 2.0 * scale));
    }
    take_left(rest, 10.0 * scale);
    const auto [words, bad] = most_pressing(context, plate);
    const bool fits = canvas.measure(words, k_body * scale, Weight::bold).width <= rest.width();
    line(canvas, words, rest,
         {.colour = bad ? p.on_bad : p.ink,
          .height = (fits ? k_body : k_small) * scale,
          .weight = fits ? Weight::bold : Weight::regular});
}

} // namespace

void draw_status(const ViewContext& context, const Box& box, std::string_view plate) {
    const plot::Palette& p = context.palette();
    const bench::InputStatus& input = context.now.input;
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    canvas.box(box, p.panel, 0.0);
    canvas.box({box.left, box.top, box.right, box.top + scale}, p.line, 0.0);
    if (context.stacks) {
        draw_short_status(context, box, plate);
        return;
    }
    Box rest = inset(box, 8.0 * scale);
    const plot::Lettering plain{.colour = p.faint_ink, .height = k_body * scale};

    draw_meter(context, take_left(rest, 0.22 * rest.width()));
    take_left(rest, 12.0 * scale);
    const bool running = input.state == bench::InputState::running;
    line(canvas, level_text(input) + " dBFS", take_left(rest, 96.0 * scale),
         {.colour = p.ink, .height = k_body * scale, .weight = Weight::bold});
    listen_button(context, take_right(rest, 168.0 * scale));
    take_right(rest, 14.0 * scale);
    if (context.now.ledger_read_only) {
        line(canvas, say("Ledger is read-only"), take_right(rest, 170.0 * scale),
             {.colour = p.on_bad,
              .height = k_body * scale,
              .across = Across::right,
              .weight = Weight::bold});
    }
    if (input.overruns > 0) {
        const std::string lost =
            say_count(input.overruns, "sound lost {} time", "sound lost {} times");
        line(canvas, lost, take_right(rest, 170.0 * scale),
             {.colour = p.on_bad, .height = k_body * scale, .across = Across::right});
    } else if (running) {
        line(canvas, say("no sound lost"), take_right(rest, 108.0 * scale),
             {.colour = p.faint_ink, .height = k_body * scale, .across = Across::right});
    }
    if (input.clipped) {
        line(canvas, say("full scale!"), take_left(rest, 96.0 * scale),
             {.colour = p.on_bad, .height = k_body * scale, .weight = Weight::bold});
    }
    line(canvas, running || input.trouble.empty() ? state_text(input) : input.trouble, rest, plain);
}

} // namespace platewright::screen
