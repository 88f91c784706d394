#include "screen/read_out.hpp"

#include "screen/parts.hpp"
#include "wording/note.hpp"

#include <string>

namespace platewright::screen {

std::string hz_words(const Wishes& wishes, double hz) {
    const std::string words = figure(hz, 1) + " Hz";
    return wishes.note_names ? words + ", " + wording::note_text(hz, wishes.reference_pitch_hz)
                             : words;
}

void read_out(const Sight& sight, const plot::Frame& frame) {
    const plot::Point at = point(ImGui::GetIO().MousePos);
    if (!points_at(frame.inside)) {
        return;
    }
    const plot::Palette& p = sight.palette();
    const double scale = sight.look.scale;
    ImguiCanvas canvas = sight.canvas();
    canvas.box({at.x - 0.5 * scale, frame.inside.top, at.x + 0.5 * scale, frame.inside.bottom},
               p.accent, 0.0);
    const std::string words = hz_words(sight.wishes, frame.across.value(at.x)) + ", " +
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

} // namespace platewright::screen
