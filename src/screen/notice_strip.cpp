#include "screen/notice_strip.hpp"

#include "screen/draw/parts.hpp"
#include "screen/fields/fields.hpp"

#include <algorithm>

namespace platewright::screen {
namespace {
using plot::Box;
using plot::Weight;

constexpr double k_understood = 170.0; // the width of a notice's button
constexpr double k_sign = 32.0;        // and of its sign

const bench::Notice* unread(const bench::Snapshot& now, std::int64_t read) {
    return now.notices.empty() || now.notices.back().number <= read ? nullptr : &now.notices.back();
}

} // namespace

double NoticeStrip::height(const ViewContext& context, double width) const {
    if (unread(context.now, read_) == nullptr) {
        return 0.0;
    }
    const double scale = context.look.scale;
    const double words = width - (24.0 + 12.0 + 14.0 + k_understood + k_sign) * scale;
    const double needed = paragraph_height(context.canvas(), unread(context.now, read_)->text,
                                           words, k_body * scale, Weight::bold);
    return std::max(50.0 * scale, needed + 20.0 * scale);
}

void NoticeStrip::draw(const ViewContext& context, Box box) {
    if (unread(context.now, read_) == nullptr) {
        return;
    }
    const bench::Notice& newest = *unread(context.now, read_);
    const plot::Palette& p = context.palette();
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    box = {box.left + 12.0 * scale, box.top, box.right - 12.0 * scale, box.bottom - 6.0 * scale};
    const plot::Colour ink = newest.grave ? p.on_bad : p.on_caution;
    sheet(canvas, context.look, box, newest.grave ? p.bad : p.caution);
    Box rest = inset(box, 6.0 * scale);
    const bool away =
        press(context, say("Understood"), take_right(rest, k_understood * scale), "Esc");
    const Box sign = take_left(rest, k_sign * scale);
    canvas.mark({0.5 * (sign.left + sign.right), 0.5 * (sign.top + sign.bottom)},
                newest.grave ? plot::Shape::cross : plot::Shape::triangle, 0.5 * sign.width(), ink);
    const Box words{rest.left + 6.0 * scale, rest.top, rest.right - 8.0 * scale, rest.bottom};
    const double needed =
        paragraph_height(canvas, newest.text, words.width(), k_body * scale, Weight::bold);
    paragraph(canvas, newest.text,
              {words.left, words.top + 0.5 * (words.height() - needed), words.right, words.bottom},
              k_body * scale, ink, Weight::bold);
    if (away || context.keys.take(Key::escape)) {
        read_ = newest.number;
    }
}

} // namespace platewright::screen
