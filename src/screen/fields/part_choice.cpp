#include "screen/fields/part_choice.hpp"

#include "screen/draw/plate_pictures.hpp"
#include "screen/fields/drafts.hpp"
#include "trends/model/plate_form.hpp"

#include <imgui_internal.h> // what the Tab key stops at

#include <algorithm>
#include <array>
#include <functional>

namespace platewright::screen {
namespace {
using plot::Box;
using plot::Point;

constexpr std::array k_parts{modes::Part::top, modes::Part::back, modes::Part::body};
constexpr double k_drawing_width = 112.0, k_drawing_height = 148.0, k_drawing_words = 26.0;
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

/// What became of a drawing: pressed by mouse or key, and whether it has the focus.
struct DrawnStop {
    bool pressed = false, focused = false;
    Box box;
};

/// The ground of a drawing to be chosen. The Tab key stops at the chosen one alone.
DrawnStop press_drawing(const ViewContext& context, bool is_chosen) {
    const plot::Palette& p = context.palette();
    const double scale = context.look.scale, corner = 6.0 * scale;
    const Point at = point(ImGui::GetCursorScreenPos());
    const Box box{at.x, at.y, at.x + k_drawing_width * scale, at.y + k_drawing_height * scale};
    if (is_chosen) {
        begin_tab_stop();
    } else {
        ImGui::PushItemFlag(ImGuiItemFlags_NoTabStop, true);
    }
    // Enter on what is chosen already is the form's.
    const bool pressed = ImGui::InvisibleButton("drawing", {static_cast<float>(box.width()),
                                                            static_cast<float>(box.height())}) ||
                         (!is_chosen && entered(context));
    if (is_chosen) {
        end_tab_stop();
    } else {
        ImGui::PopItemFlag();
    }
    const bool is_focused = ImGui::IsItemFocused();
    ImguiCanvas canvas = context.canvas();
    canvas.box(box, is_chosen ? p.accent.over(p.panel, 0.22) : p.panel, corner);
    canvas.frame(box, is_chosen ? p.accent : p.line, corner, (is_chosen ? 2.0 : 1.0) * scale);
    if (ImGui::IsItemHovered()) {
        canvas.box(box, p.accent.faded(0.1), corner);
    }
    if (is_focused) {
        show_focus(context);
        ImGui::GetWindowDrawList()->AddRect(
            vec({box.left - 2.0, box.top - 2.0}), vec({box.right + 2.0, box.bottom + 2.0}),
            packed(p.accent), static_cast<float>(corner) + 2.0F, 0, context.look.px(2.5));
    }
    return {pressed, is_focused, box};
}

/// One of a list by drawings beside each other, one stop of the Tab key: the arrow keys choose
/// among them. `draw` fills a box with the one at an index. True when another was chosen.
bool drawn_choice(const ViewContext& context, std::string_view label,
                  std::span<const std::string> all, std::size_t& chosen,
                  const std::function<void(std::size_t, const Box&)>& draw) {
    constexpr int k_none = -1;
    const plot::Palette& p = context.palette();
    const double scale = context.look.scale;
    label_line(context, label);
    ImGui::PushID(label.data(), label.data() + label.size());
    const std::size_t before = chosen;
    int& had_focus = *ImGui::GetStateStorage()->GetIntRef(ImGui::GetID("focus"), k_none);
    int focused = k_none;
    for (std::size_t i = 0; i < all.size(); ++i) {
        const float room = ImGui::GetWindowContentRegionMax().x + ImGui::GetWindowPos().x;
        const float after = ImGui::GetItemRectMax().x + ImGui::GetStyle().ItemSpacing.x;
        if (i > 0 && after + context.look.px(k_drawing_width) <= room) {
            ImGui::SameLine();
        }
        ImGui::PushID(static_cast<int>(i));
        auto [pressed, has_focus, box] = press_drawing(context, i == before);
        ImGui::PopID();
        if (has_focus) {
            focused = static_cast<int>(i);
        }
        // Whoever comes from elsewhere chooses nothing by passing.
        const bool by_arrow = has_focus && had_focus != k_none && had_focus != focused;
        if (pressed || by_arrow) {
            chosen = i;
        }
        ImguiCanvas canvas = context.canvas();
        const plot::Weight weight = i == before ? plot::Weight::bold : plot::Weight::regular;
        const Box words = take_bottom(box, k_drawing_words * scale);
        const Box inside = inset(words, 3.0 * scale);
        line(canvas, all[i], inside,
             {.colour = p.ink,
              .height = fitting(canvas, all[i], inside.width(), weight,
                                {k_body * scale, k_small * scale}),
              .across = plot::Across::centre,
              .weight = weight});
        draw(i, inset(box, 7.0 * scale));
    }
    had_focus = focused;
    go_on_by_tab(context, focused != k_none);
    ImGui::PopID();
    if (chosen != before) {
        context.owed = std::max(context.owed, 2); // it is drawn as chosen in the next
    }
    return chosen != before;
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
