#include "screen/draw/read_out.hpp"

#include "screen/draw/parts.hpp"
#include "wording/note.hpp"

#include <algorithm>

namespace platewright::screen {

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
