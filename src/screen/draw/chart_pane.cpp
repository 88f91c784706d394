#include "screen/draw/chart_pane.hpp"

#include "plot/chart.hpp"
#include "screen/draw/parts.hpp"
#include "wording/language.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::screen {
namespace {
using plot::Box;
using plot::Frame;

constexpr double k_wheel_step = 0.8;

} // namespace

void ChartPane::build(const ViewContext& context, const Subject& subject) {
    if (from_ == subject.from && variant_ == subject.variant && palette_ == &context.palette()) {
        return;
    }
    if (variant_ != subject.variant) { // other axes
        across_.reset();
        up_.reset();
    }
    from_ = subject.from;
    variant_ = subject.variant;
    palette_ = &context.palette();
    chart_ = subject.chart(*palette_);
}

Frame ChartPane::draw(const ViewContext& context, const Subject& subject, const Box& box,
                      double text_height, Zooms zooms) {
    build(context, subject);
    // The chart keeps its own axes; what is seen of them is lent for the drawing.
    const plot::Axis all_across = chart_.across;
    const plot::Axis all_up = chart_.up;
    const auto lend = [](plot::Axis& axis, const std::optional<plot::Axis>& seen) {
        if (seen) {
            axis.low = seen->low;
            axis.high = seen->high;
        }
    };
    lend(chart_.across, across_);
    lend(chart_.up, up_);
    ImguiCanvas canvas = context.canvas();
    const Frame frame = plot::draw(chart_, box, canvas, context.palette(),
                                   {.text_height = text_height, .line_scale = context.look.scale});
    chart_.across = all_across;
    chart_.up = all_up;
    if (!chart_.empty()) {
        answer_mouse(context, frame, zooms);
    }
    return frame;
}

void ChartPane::look_closer(const Frame& frame, Zooms zooms, double factor, plot::Point about) {
    across_ = plot::zoomed(chart_.across, across_.value_or(chart_.across),
                           frame.across.value(about.x), factor);
    if (zooms == Zooms::both) {
        up_ = plot::zoomed(chart_.up, up_.value_or(chart_.up), frame.up.value(about.y), factor);
    }
}

void ChartPane::answer_mouse(const ViewContext& context, const Frame& frame, Zooms zooms) {
    const Box& in = frame.inside;
    const ImGuiIO& io = ImGui::GetIO();
    ImGui::SetCursorScreenPos(vec({in.left, in.top}));
    const bool pressed =
        ImGui::InvisibleButton("chart", {static_cast<float>(std::max(1.0, in.width())),
                                         static_cast<float>(std::max(1.0, in.height()))});
    const plot::Point at = point(io.MousePos);
    clicked_.reset();
    if (ImGui::IsItemActivated()) {
        dragged_ = false;
    }
    if (ImGui::IsItemActive() && ImGui::IsMouseDragging(ImGuiMouseButton_Left)) {
        dragged_ = true;
        across_ = plot::moved(chart_.across, across_.value_or(chart_.across),
                              -static_cast<double>(io.MouseDelta.x) / in.width());
        if (zooms == Zooms::both) {
            up_ = plot::moved(chart_.up, up_.value_or(chart_.up),
                              static_cast<double>(io.MouseDelta.y) / in.height());
        }
    }
    if (pressed && !dragged_) {
        clicked_ = at;
    }
    const bool hovered = ImGui::IsItemHovered();
    if (hovered && io.MouseWheel != 0.0F &&
        io.KeyCtrl == context.stacks) { // there the wheel alone scrolls the view
        look_closer(frame, zooms, std::pow(k_wheel_step, static_cast<double>(io.MouseWheel)), at);
        context.owed = 1;
    }
    const plot::Point middle{0.5 * (in.left + in.right), 0.5 * (in.top + in.bottom)};
    if (context.keys.take(U'.')) {
        look_closer(frame, zooms, k_wheel_step, middle);
    }
    if (context.keys.take(U',')) {
        look_closer(frame, zooms, 1.0 / k_wheel_step, middle);
    }
    const bool again = hovered && ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left);
    if (again || context.keys.take(U'z')) {
        across_.reset();
        up_.reset();
        context.owed = 1;
    }
}

/// On white, whatever the window's own ground is.
void ChartPane::keep(const ViewContext& context, const Subject& subject) {
    told_ = context.outside.keep_picture
                ? context.outside.keep_picture(subject.chart(plot::paper_palette()), subject.name)
                : std::string();
}

void ChartPane::keep_button(const ViewContext& context, const Subject& subject, Box box) {
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    const std::string_view words = say("Keep picture");
    const double width =
        canvas.measure(words, k_body * scale, plot::Weight::regular).width + 50.0 * scale;
    if (press(context, words, take_left(box, width), "S") || context.keys.take(U's')) {
        keep(context, subject);
    }
    take_left(box, 8.0 * scale);
    line(canvas, told_, box, {.colour = context.palette().faint_ink, .height = k_small * scale});
}

void ChartPane::tools(const ViewContext& context, const Subject& subject, Box box) {
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    const auto button = [&](std::string_view words, std::string_view key) {
        const double width =
            canvas.measure(words, k_body * scale, plot::Weight::regular).width + 70.0 * scale;
        if (width > box.width()) {
            return false; // its key does the same
        }
        const bool pressed = press(context, words, take_left(box, width), key);
        take_left(box, 8.0 * scale);
        return pressed;
    };
    if (button(say("Keep picture"), "S") || context.keys.take(U's')) {
        keep(context, subject);
    }
    if ((across_ || up_) && button(say("Show all"), "Z")) {
        across_.reset();
        up_.reset();
    }
    if (button(say("Copy figures"), "T") || context.keys.take(U't')) {
        ImGui::SetClipboardText(plot::chart_table(chart_).c_str());
        told_ = say("Copied: a table, to be pasted into a spreadsheet.");
    }
    const std::string_view hint = context.stacks
                                      ? say("Ctrl and the wheel look closer, a drag moves.")
                                      : say("The wheel looks closer, a drag moves.");
    const bool fits =
        canvas.measure(hint, k_small * scale, plot::Weight::regular).width <= box.width();
    if (!told_.empty() || fits) {
        line(canvas, told_.empty() ? hint : told_, box,
             {.colour = context.palette().faint_ink, .height = k_small * scale});
    }
}

std::string hz_words(const Preferences& preferences, double hz) {
    const std::string words = figure(hz, 1) + " Hz";
    return preferences.note_names
               ? words + ", " + wording::note_text(hz, preferences.reference_pitch_hz)
               : words;
}

void read_out(const ViewContext& context, const plot::Frame& frame) {
    const plot::Point at = point(ImGui::GetIO().MousePos);
    if (!points_at(frame.inside)) {
        return;
    }
    const plot::Palette& p = context.palette();
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    canvas.box({at.x - 0.5 * scale, frame.inside.top, at.x + 0.5 * scale, frame.inside.bottom},
               p.accent, 0.0);
    const std::string words = hz_words(context.preferences, frame.across.value(at.x)) + ", " +
                              signed_figure(frame.up.value(at.y), 0) + " dB";
    const double height = k_body * scale;
    const double width = canvas.measure(words, height, plot::Weight::bold).width;
    // In the corner the pointer is not in.
    const bool at_left = at.x > 0.5 * (frame.inside.left + frame.inside.right);
    const double left =
        at_left ? frame.inside.left + 8.0 * scale : frame.inside.right - 28.0 * scale - width;
    const plot::Box label{left, frame.inside.bottom - 36.0 * scale, left + width + 20.0 * scale,
                          frame.inside.bottom - 8.0 * scale};
    canvas.box(label, p.accent, 5.0 * scale);
    line(canvas, words, {label.left + 10.0 * scale, label.top, label.right, label.bottom},
         {.colour = p.on_accent, .height = height, .weight = plot::Weight::bold});
}

void draw_read_out(ImguiCanvas& canvas, const ViewContext& context,
                   const std::vector<std::string>& lines, plot::Point at, const plot::Box& within) {
    const double scale = context.look.scale, row = 1.35 * k_body * scale, pad = 9.0 * scale;
    const double most = 0.6 * within.width();
    double width = 0.0, height = 2.0 * pad;
    for (const std::string& words : lines) {
        width = std::max(width, canvas.measure(words, k_body * scale, plot::Weight::bold).width);
    }
    width = std::min(width, most);
    for (const std::string& words : lines) {
        height += std::max(row, paragraph_height(canvas, words, width, k_body * scale));
    }
    // On the side of the pointer that has more room.
    const bool at_left = at.x > 0.5 * (within.left + within.right);
    const double whole = width + 2.0 * pad;
    const double left = std::clamp(at_left ? at.x - 16.0 * scale - whole : at.x + 16.0 * scale,
                                   within.left, std::max(within.left, within.right - whole));
    const double top =
        std::clamp(at.y - 0.5 * height, within.top, std::max(within.top, within.bottom - height));
    const plot::Box box{left, top, left + whole, top + height};
    context.look.cover(box);
    canvas.box(box, context.palette().ink, 5.0 * scale);
    plot::Box words_box = inset(box, pad);
    for (const std::string& words : lines) {
        words_box.top +=
            paragraph(canvas, words, words_box, k_body * scale, context.palette().panel,
                      words == lines.front() ? plot::Weight::bold : plot::Weight::regular);
    }
}

} // namespace platewright::screen
