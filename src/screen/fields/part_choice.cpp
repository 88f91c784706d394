#include "screen/fields/part_choice.hpp"

#include "screen/draw/plate_pictures.hpp"
#include "screen/fields/drafts.hpp"
#include "trends/model/plate_form.hpp"

#include <algorithm>
#include <array>

namespace platewright::screen {
namespace {
using plot::Box;
using plot::Point;

constexpr std::array k_parts{modes::Part::top, modes::Part::back, modes::Part::body};
constexpr double k_neck = 0.22; // of the body's length, as much of it as is drawn

/// What is strung over a body: fingerboard, bridge and tailpiece, in lengths of the body from the
/// lower end upwards (a sketch, to be told apart by).
struct Strung {
    double left, bottom, right, top;
};
constexpr std::array k_strung{Strung{-0.034, 0.62, 0.034, 1.0 + k_neck},
                              Strung{-0.065, 0.44, 0.065, 0.455},
                              Strung{-0.034, 0.04, 0.034, 0.30}};

/// Of the usual size, if the instrument's own gives no outline.
std::optional<plot::PlatePicture> outline_for(const ledger::InstrumentRecord& instrument,
                                              bool is_back) {
    for (const auto& one : {instrument, ledger::InstrumentRecord{.kind = instrument.kind}}) {
        const auto form = trends::plate_form(trends::usual_form(one),
                                             is_back ? modes::Part::back : modes::Part::top,
                                             modes::Stage::f_holes_cut);
        if (form) {
            return bare_picture(*form, is_back);
        }
    }
    return std::nullopt;
}

void draw_part(const ViewContext& context, const ledger::InstrumentRecord& instrument,
               modes::Part part, const Box& box) {
    const auto picture = outline_for(instrument, part == modes::Part::back);
    if (!picture || picture->rims.empty()) {
        return;
    }
    double length = 0.0, half = 0.0;
    for (const Point p : picture->rims.front()) {
        length = std::max(length, p.y);
        half = std::max(half, std::abs(p.x));
    }
    const bool is_body = part == modes::Part::body;
    const double high = length * (1.0 + (is_body ? k_neck : 0.0));
    const double size = std::min(box.height() / high, 0.5 * box.width() / half);
    const Point low{0.5 * (box.left + box.right), 0.5 * (box.top + box.bottom + size * high)};
    const auto on_box = [&](const std::vector<Point>& line, bool closed) {
        std::vector<Point> placed;
        for (const Point p : line) {
            placed.push_back({low.x + p.x * size, low.y - p.y * size});
        }
        if (closed && !placed.empty()) {
            placed.push_back(placed.front());
        }
        return placed;
    };
    ImguiCanvas canvas = context.canvas();
    const plot::Palette& p = context.palette();
    const plot::Pen pen{p.ink, 1.6 * context.look.scale, plot::Dash::solid};
    for (const auto& rim : picture->rims) {
        canvas.polyline(on_box(rim, true), pen);
    }
    for (const auto& seam : picture->lines) {
        canvas.polyline(on_box(seam, false), pen);
    }
    for (const Strung& one : k_strung) {
        if (is_body) {
            canvas.box({low.x + one.left * length * size, low.y - one.top * length * size,
                        low.x + one.right * length * size, low.y - one.bottom * length * size},
                       p.ink, 0.0);
        }
    }
}

} // namespace

bool choose_part(const ViewContext& context, std::string_view label,
                 const ledger::InstrumentRecord& instrument, modes::Part& part) {
    std::array<std::string, k_parts.size()> words;
    std::ranges::transform(k_parts, words.begin(), part_text);
    auto chosen = static_cast<std::size_t>(std::ranges::find(k_parts, part) - k_parts.begin());
    const bool changed =
        drawn_choice(context, label, words, chosen, [&](std::size_t i, const Box& box) {
            draw_part(context, instrument, k_parts.at(i), box);
        });
    if (changed) {
        part = k_parts.at(chosen);
    }
    return changed;
}

} // namespace platewright::screen
