#include "screen/settings/sound_view.hpp"

#include "base/text.hpp"
#include "bench/sound/listening.hpp"
#include "screen/draw/parts.hpp"
#include "screen/fields/fields.hpp"
#include "screen/settings/status_line.hpp"

#include <algorithm>
#include <array>
#include <span>
#include <string>
#include <vector>

namespace platewright::screen {
namespace {
using plot::Box;
using plot::Weight;

constexpr std::array k_lows_hz{0.0, 15.0, 20.0, 30.0, 40.0, 60.0, 100.0};
constexpr std::array k_highs_hz{0.0, 1200.0, 2500.0, 5000.0, 10000.0};
constexpr std::array k_rates_hz{0.0, 44100.0, 48000.0, 88200.0, 96000.0, 176400.0, 192000.0};

const audio::Device* chosen_device(const bench::Snapshot& now) {
    const auto found =
        std::find_if(now.inputs.begin(), now.inputs.end(), [&now](const audio::Device& device) {
            return now.chosen.name.empty() ? device.is_default : device.name == now.chosen.name;
        });
    return found == now.inputs.end() ? nullptr : &*found;
}

} // namespace

void SoundView::draw(const ViewContext& context, Box area) {
    const double half = 0.5 * area.width() - 5.0 * context.look.scale;
    devices(context, next_column(context, area, half));
    level(context, next_column(context, area, half));
}

void SoundView::devices(const ViewContext& context, const Box& box) {
    const Page page(context, "inputs", box);
    const bench::Snapshot& now = context.now;
    heading(context, say("Microphone or input"));
    if (now.inputs.empty()) {
        text(context, say("No input is to be seen. Plug a microphone in, then look again; plates "
                          "already tapped can be read meanwhile."));
    }
    int id = 0;
    for (const audio::Device& device : now.inputs) {
        const bool chosen = &device == chosen_device(now);
        const std::string second =
            say_count(device.channels, "{} channel", "{} channels") + ", " +
            figure(device.default_rate_hz / 1000.0, 1) + " kHz" +
            (device.is_default ? ", " + std::string(say("the system's own choice"))
                               : std::string());
        if (row(context, ++id, device.name, second, chosen) && !chosen) {
            context.send(bench::command::ChooseInput{{device.name, 0.0, 0}});
        }
    }
    if (flow_press(context, say("Look again"), "R") || context.keys.take(U'r')) {
        context.send(bench::command::RefreshInputs{});
    }

    audio::InputChoice choice = now.chosen;
    std::vector<Option<double>> rates;
    for (const double rate : k_rates_hz) {
        rates.push_back(
            {rate, rate == 0.0 ? say("the input's own") : figure(rate / 1000.0, 1) + " kHz"});
    }
    if (drop_down(context, say("sample rate"), rates, choice.sample_rate_hz, 300)) {
        context.send(bench::command::ChooseInput{choice});
    }
    const audio::Device* device = chosen_device(now);
    std::vector<Option<int>> channels;
    for (int i = 0; i < (device != nullptr ? device->channels : 1); ++i) {
        channels.push_back({i, std::to_string(i + 1)});
    }
    if (drop_down(context, say("channel"), channels, choice.channel, 300)) {
        if (choice.force_channel == choice.channel) {
            choice.force_channel = -1;
        }
        context.send(bench::command::ChooseInput{choice});
    }
    hammer(context, device);
    band(context);
}

/// Where taps are looked for: as the plate's kind and part ask, or from and to what the maker
/// chose.
void SoundView::band(const ViewContext& context) const {
    const bench::Snapshot& now = context.now;
    const auto choose = [&](std::string_view label, std::span<const double> all, double is,
                            double& chosen) {
        std::vector<Option<double>> words;
        for (const double hz : all)
            words.push_back({hz, hz > 0 ? figure(hz, 0) + " Hz"
                                        : say("as the plate asks ({} Hz)", figure(is, 0))});
        if (std::ranges::count(all, chosen) == 0)
            chosen = all.front();
        return drop_down(context, label, words, chosen, 300);
    };
    modes::BandChoice chosen = now.chosen_band;
    const bool lower =
        choose(say("taps are looked for from"), k_lows_hz, now.band.low_hz, chosen.low_hz);
    const bool upper = choose(say("up to"), k_highs_hz, now.band.high_hz, chosen.high_hz);
    if (lower || upper)
        context.send(bench::command::ChooseBand{chosen});
    text(context,
         say("What sounds lower or higher is not heard: a cello's and a double bass's mode "
             "1 lies below 40 Hz."));
}

/// A hammer that tells its force on a second channel, and its newtons at full scale.
void SoundView::hammer(const ViewContext& context, const audio::Device* device) {
    const audio::InputChoice& chosen = context.now.chosen;
    if ((device == nullptr || device->channels < 2) && chosen.force_channel < 0) {
        return;
    }
    std::vector<Option<int>> channels{{-1, say("none tells its force")}};
    const int count = std::max(device != nullptr ? device->channels : 0, chosen.force_channel + 1);
    for (int i = 0; i < count; ++i) {
        if (i != chosen.channel) {
            channels.push_back({i, std::to_string(i + 1)});
        }
    }
    audio::InputChoice choice = chosen;
    if (drop_down(context, say("channel of a hammer's force"), channels, choice.force_channel,
                  300)) {
        context.send(bench::command::ChooseInput{choice});
    }
    if (chosen.force_channel < 0) {
        return;
    }
    if (newton_.filled().value_or(0.0) != chosen.force_newton) {
        newton_ = chosen.force_newton > 0 ? TypedFigure{chosen.force_newton, 0} : TypedFigure{};
    }
    const std::string_view label = say("newtons at its full scale (empty: not known)");
    field(context, label, newton_.text, 300, false, &complaint_);
    if (ImGui::IsItemDeactivatedAfterEdit()) {
        constexpr double most_newton = 100'000.0;
        const auto typed = newton_.number(say("The force"), {1.0, most_newton, "N"});
        complaint_ = typed ? Complaint{} : Complaint{typed.fault().what, std::string(label), false};
        if (typed) {
            choice.force_newton = typed->value_or(0.0);
            context.send(bench::command::ChooseInput{choice});
        }
    }
}

void SoundView::level(const ViewContext& context, Box box) const {
    const plot::Palette& p = context.palette();
    const double scale = context.look.scale;
    const bench::InputStatus& input = context.now.input;
    ImguiCanvas canvas = context.canvas();
    const Growing ground(context, "level", box);
    const plot::Point padding = point(ImGui::GetStyle().WindowPadding); // as the page beside it
    box = {box.left + padding.x, box.top + padding.y, box.right - padding.x,
           box.bottom - padding.y};
    box.top +=
        paragraph(canvas, say("Level"), box, k_lead * scale, p.ink, Weight::bold) + 8.0 * scale;
    const bool running = input.state == bench::InputState::running;
    const std::string level = level_text(input);
    Box figures = take_top(box, 104.0 * scale);
    const double width = canvas.measure(level, k_figure * scale, Weight::bold).width;
    line(canvas, level, take_left(figures, width + 10.0 * scale),
         {.colour = p.ink, .height = k_figure * scale, .weight = Weight::bold});
    figures.top += 34.0 * scale;
    line(canvas, "dBFS", figures, {.colour = p.faint_ink, .height = k_lead * scale});
    draw_meter(context, take_top(box, 54.0 * scale));
    Box ends = take_top(box, 26.0 * scale);
    line(canvas, "\u221272", ends, {.colour = p.faint_ink, .height = k_small * scale});
    line(canvas, "0", ends,
         {.colour = p.faint_ink, .height = k_small * scale, .across = plot::Across::right});
    take_top(box, 10.0 * scale);
    const auto tell = [&](std::string_view words, plot::Colour ink, Weight weight) {
        box.top += paragraph(canvas, words, box, k_body * scale, ink, weight) + 8.0 * scale;
    };
    if (!input.trouble.empty()) {
        tell(input.trouble, p.on_bad, Weight::bold);
    }
    for (const std::string& words : bench::words_of(input.faults))
        tell(words, p.on_bad, Weight::bold);
    if (running && input.silent) {
        tell(say("Nothing at all arrives from {}: it is muted, turned down, or not the one (F5).",
                 input.name),
             p.on_bad, Weight::bold);
    } else if (running) {
        tell(
            say("The room is at {} dBFS, marked in the meter. A strike should stand 30 dB above it "
                "and stay below the last step.",
                signed_figure(input.noise_dbfs, 0)),
            p.ink, Weight::regular);
        tell(input.overruns == 0
                 ? say("No sound was lost since listening began.")
                 : say_count(input.overruns,
                             "Sound was lost {} time since listening began: close other programs, "
                             "or choose a lower rate.",
                             "Sound was lost {} times since listening began: close other "
                             "programs, or choose a lower rate."),
             input.overruns == 0 ? p.faint_ink : p.on_bad, Weight::regular);
    }
    tell(say("Turn off automatic gain, noise suppression and echo cancelling for this input in the "
             "system's sound settings: they bend the decay that is measured here. Small phone "
             "microphones hear little below 100 Hz."),
         p.faint_ink, Weight::regular);
    ground.reached(box.top + 10.0 * scale);
}

} // namespace platewright::screen
