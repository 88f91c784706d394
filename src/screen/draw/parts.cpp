#include "screen/draw/parts.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <vector>

namespace platewright::screen {

using plot::Across;
using plot::Box;
using plot::Lettering;
using plot::Weight;

Box take_top(Box& from, double height) {
    const Box taken{from.left, from.top, from.right, std::min(from.bottom, from.top + height)};
    from.top = taken.bottom;
    return taken;
}
Box take_bottom(Box& from, double height) {
    const Box taken{from.left, std::max(from.top, from.bottom - height), from.right, from.bottom};
    from.bottom = taken.top;
    return taken;
}
Box take_left(Box& from, double width) {
    const Box taken{from.left, from.top, std::min(from.right, from.left + width), from.bottom};
    from.left = taken.right;
    return taken;
}
Box take_right(Box& from, double width) {
    const Box taken{std::max(from.left, from.right - width), from.top, from.right, from.bottom};
    from.right = taken.left;
    return taken;
}
Box inset(const Box& box, double by) {
    return {box.left + by, box.top + by, box.right - by, box.bottom - by};
}

bool points_at(const Box& box) {
    const ImVec2 low = ImGui::GetWindowDrawList()->GetClipRectMin();
    const ImVec2 high = ImGui::GetWindowDrawList()->GetClipRectMax();
    const plot::Point at = point(ImGui::GetIO().MousePos);
    return box.holds(at) && at.x >= static_cast<double>(low.x) &&
           at.x < static_cast<double>(high.x) && at.y >= static_cast<double>(low.y) &&
           at.y < static_cast<double>(high.y);
}

namespace {

double key_cap_width(const ImguiCanvas& canvas, const Look& look, std::string_view key) {
    const double height = k_small * look.scale;
    return canvas.measure(key, height, Weight::bold).width + 0.9 * height;
}

} // namespace

double key_cap(ImguiCanvas& canvas, const Look& look, plot::Point at, std::string_view key,
               plot::Colour colour) {
    const double height = k_small * look.scale;
    const double width = key_cap_width(canvas, look, key);
    const Box cap{at.x, at.y - 0.75 * height, at.x + width, at.y + 0.75 * height};
    canvas.box(cap, colour.faded(0.16), 0.3 * height);
    canvas.text(
        {at.x + 0.5 * width, at.y}, key,
        {.colour = colour, .height = height, .across = Across::centre, .weight = Weight::bold});
    return width;
}

bool entered(const ViewContext& context) {
    return ImGui::IsItemFocused() && ImGui::GetIO().NavVisible && context.keys.take(Key::enter);
}

namespace {

plot::Colour label_ink(const plot::Palette& p, Stress stress) {
    return stress == Stress::strong ? p.on_accent : p.ink;
}
Weight label_weight(Stress stress) {
    return stress == Stress::plain || stress == Stress::flat ? Weight::regular : Weight::bold;
}

/// A button's ground, without its label; true when it was pressed.
bool press_ground(const ViewContext& context, std::string_view label, const Box& box,
                  Stress stress) {
    const plot::Palette& p = context.palette();
    const Look& look = context.look;
    ImGui::SetCursorScreenPos(vec({box.left, box.top}));
    ImGui::PushID(label.data(), label.data() + label.size());
    const bool pressed =
        ImGui::InvisibleButton("press", {static_cast<float>(std::max(1.0, box.width())),
                                         static_cast<float>(std::max(1.0, box.height()))}) ||
        entered(context);
    ImGui::PopID();
    const bool strong = stress == Stress::strong;
    const bool chosen = stress == Stress::chosen;
    ImguiCanvas canvas = context.canvas();
    const double corner = 6.0 * look.scale;
    canvas.box(box, strong ? p.accent : chosen ? p.accent.over(p.panel, 0.22) : p.panel, corner);
    if (!strong && stress != Stress::flat) {
        canvas.frame(box, chosen ? p.accent : p.line, corner, look.scale);
    }
    if (ImGui::IsItemHovered()) {
        canvas.box(box, p.accent.faded(0.16), corner);
    }
    if (ImGui::IsItemFocused() && ImGui::GetIO().NavVisible) {
        ImGui::GetWindowDrawList()->AddRect(
            vec({box.left - 2.0, box.top - 2.0}), vec({box.right + 2.0, box.bottom + 2.0}),
            packed(p.accent), static_cast<float>(corner) + 2.0F, 0, look.px(2.5));
    }
    return pressed;
}

} // namespace

void frame_switch(const ViewContext& context, const Box& box) {
    ImguiCanvas canvas = context.canvas();
    canvas.frame(box, context.palette().line, 6.0 * context.look.scale, context.look.scale);
}

bool press_door(const ViewContext& context, std::string_view label, const Box& box,
                std::string_view key, Stress stress) {
    const bool pressed = press_ground(context, label, box, Stress::flat);
    const double scale = context.look.scale;
    if (stress == Stress::chosen) {
        context.canvas().box({box.left - 8.0 * scale, box.top, box.left - 2.0 * scale, box.bottom},
                             context.palette().accent, 0.0);
    }
    const plot::Colour ink = label_ink(context.palette(), stress);
    ImguiCanvas canvas = context.canvas();
    const Box words{box.left + 4.0 * scale, box.bottom - 32.0 * scale, box.right - 4.0 * scale,
                    box.bottom - 6.0 * scale};
    line(canvas, label, words,
         {.colour = ink,
          .height = k_body * scale,
          .across = Across::centre,
          .weight = label_weight(stress)});
    const double cap_width = key_cap_width(canvas, context.look, key);
    key_cap(canvas, context.look,
            {0.5 * (box.left + box.right - cap_width), box.top + 17.0 * scale}, key, ink);
    return pressed;
}

bool press_tool(const ViewContext& context, std::string_view label, const Box& box,
                std::string_view key) {
    const bool pressed = press_ground(context, label, box, Stress::flat);
    const double scale = context.look.scale;
    const plot::Colour ink = context.palette().ink;
    ImguiCanvas canvas = context.canvas();
    const double cap = key_cap_width(canvas, context.look, key);
    key_cap(canvas, context.look,
            {0.5 * (box.left + box.right - cap), box.top + 0.3 * box.height()}, key, ink);
    line(canvas, label, {box.left, box.top + 0.56 * box.height(), box.right, box.bottom},
         {.colour = ink, .height = k_small * scale, .across = Across::centre});
    return pressed;
}

bool press(const ViewContext& context, std::string_view label, const Box& box, std::string_view key,
           Stress stress) {
    const bool pressed = press_ground(context, label, box, stress);
    const Look& look = context.look;
    const plot::Colour ink = label_ink(context.palette(), stress);
    const double height = k_body * look.scale;
    const double middle = 0.5 * (box.top + box.bottom);
    const Weight weight = label_weight(stress);
    ImguiCanvas canvas = context.canvas();
    const double label_width = canvas.measure(label, height, weight).width;
    const double cap_width =
        key.empty() ? 0.0
                    : canvas.measure(key, k_small * look.scale, Weight::bold).width + 1.5 * height;
    double x = 0.5 * (box.left + box.right - label_width - cap_width);
    x = std::max(x, box.left + 0.3 * height);
    line(canvas, label, {x, box.top, box.right - 0.2 * height - cap_width, box.bottom},
         {.colour = ink, .height = height, .weight = weight});
    if (!key.empty()) {
        key_cap(canvas, look, {x + label_width + 0.5 * height, middle}, key, ink);
    }
    return pressed;
}

double fitting(const ImguiCanvas& canvas, std::string_view words, double width, Weight weight,
               std::initializer_list<double> sizes) {
    for (const double size : sizes) {
        if (canvas.measure(words, size, weight).width <= width) {
            return size;
        }
    }
    return *(sizes.end() - 1);
}

void line(ImguiCanvas& canvas, std::string_view words, const Box& box, const Lettering& lettering) {
    std::string shown(words);
    const auto width = [&](std::string_view text) {
        return canvas.measure(text, lettering.height, lettering.weight).width;
    };
    while (width(shown) > box.width() + 1.0 && !shown.empty()) {
        std::size_t end = shown.size();
        if (shown.ends_with("\u2026")) {
            end -= std::string_view("\u2026").size();
        }
        // One letter less, which in UTF-8 may be several bytes.
        do {
            end = end > 0 ? end - 1 : 0;
        } while (end > 0 && (static_cast<unsigned char>(shown[end]) & 0xC0U) == 0x80U);
        shown = end == 0 ? std::string() : shown.substr(0, end) + "\u2026";
    }
    const double x = lettering.across == Across::left     ? box.left
                     : lettering.across == Across::centre ? 0.5 * (box.left + box.right)
                                                          : box.right;
    Lettering placed = lettering;
    placed.upright = plot::Upright::middle;
    canvas.text({x, 0.5 * (box.top + box.bottom)}, shown, placed);
}

namespace {

/// Where the first word ends; a figure and its unit are one.
std::size_t word_end(std::string_view words) {
    const std::size_t end = std::min(words.find(' '), words.size());
    if (end == 0 || end == words.size() || words[end - 1] < '0' || words[end - 1] > '9') {
        return end;
    }
    const std::string_view rest = words.substr(end + 1);
    for (const std::string_view unit : {"%", "g", "mm", "Hz"}) {
        const std::string_view after = rest.substr(std::min(unit.size(), rest.size()));
        if (rest.starts_with(unit) && (after.empty() || after.find_first_of(" .,;:)") == 0)) {
            return end + 1 + std::min(rest.find(' '), rest.size());
        }
    }
    return end;
}

std::vector<std::string> rows(const ImguiCanvas& canvas, std::string_view words, double width,
                              double height, Weight weight) {
    std::vector<std::string> broken;
    std::string row;
    while (!words.empty()) {
        const std::size_t end = word_end(words);
        const std::string word(words.substr(0, end));
        const std::string longer = row.empty() ? word : row + " " + word;
        if (!row.empty() && canvas.measure(longer, height, weight).width > width) {
            broken.push_back(std::move(row));
            row = word;
        } else {
            row = longer;
        }
        words.remove_prefix(std::min(end + 1, words.size()));
    }
    if (!row.empty()) {
        broken.push_back(std::move(row));
    }
    return broken;
}
constexpr double k_leading = 1.35;

} // namespace

void large_line(const ViewContext& context, std::string_view words, const Box& box) {
    ImguiCanvas canvas = context.canvas();
    const double scale = context.look.scale;
    line(canvas, words, box,
         {.colour = context.palette().ink,
          .height = fitting(
              canvas, words, box.width(), Weight::bold,
              {k_delta * scale, 28.0 * scale, k_lead * scale, k_body * scale, k_small * scale}),
          .weight = Weight::bold});
}

double paragraph(ImguiCanvas& canvas, std::string_view words, const Box& box, double height,
                 plot::Colour colour, Weight weight) {
    double y = box.top;
    for (const std::string& row : rows(canvas, words, box.width(), height, weight)) {
        canvas.text(
            {box.left, y}, row,
            {.colour = colour, .height = height, .upright = plot::Upright::top, .weight = weight});
        y += k_leading * height;
    }
    return y - box.top;
}

double paragraph_height(const ImguiCanvas& canvas, std::string_view words, double width,
                        double height, Weight weight) {
    return static_cast<double>(rows(canvas, words, width, height, weight).size()) * k_leading *
           height;
}

bool invitation(const ViewContext& context, const Box& area, std::string_view title,
                std::string_view text, std::string_view action, std::string_view key) {
    ImguiCanvas canvas = context.canvas();
    const Look& look = context.look;
    const double width = std::min(area.width() - 40.0 * look.scale, 620.0 * look.scale);
    const double left = 0.5 * (area.left + area.right - width);
    // With large letters it may need all the height there is, and more.
    const double needed =
        paragraph_height(canvas, title, width, k_delta * look.scale, Weight::bold) +
        paragraph_height(canvas, text, width, k_lead * look.scale) + 84.0 * look.scale;
    double y = area.top + std::clamp(0.5 * (area.height() - needed), 0.0, 0.24 * area.height());
    y += paragraph(canvas, title, {left, y, left + width, area.bottom}, k_delta * look.scale,
                   context.palette().ink, Weight::bold);
    y += 6.0 * look.scale;
    y += paragraph(canvas, text, {left, y, left + width, area.bottom}, k_lead * look.scale,
                   context.palette().faint_ink);
    y += 18.0 * look.scale;
    if (action.empty()) {
        return false;
    }
    context.stacked_to = y + 70.0 * look.scale;
    return press(context, action,
                 {left, y, left + std::min(width, 360.0 * look.scale), y + 60.0 * look.scale}, key,
                 Stress::strong);
}

void invite_to_plates(const ViewContext& context, const Box& area, std::string_view title,
                      std::string_view text) {
    if (invitation(context, area, title, text, say("Go to the plates"), "F4")) {
        context.place = Place::plates;
    }
}

void sheet(ImguiCanvas& canvas, const Look& look, const Box& box) {
    sheet(canvas, look, box, look.palette->panel);
}

void sheet(ImguiCanvas& canvas, const Look& look, const Box& box, plot::Colour colour) {
    canvas.box(box, colour, 9.0 * look.scale);
    canvas.frame(box, look.palette->line, 9.0 * look.scale, look.scale);
}

void working_bar(const ViewContext& context, Box box, std::string_view doing, double share) {
    const double scale = context.look.scale;
    const plot::Palette& p = context.palette();
    ImguiCanvas canvas = context.canvas();
    if (press(context, say("Stop"), take_right(box, 120.0 * scale))) {
        context.send(bench::command::StopWork{});
    }
    take_right(box, 10.0 * scale);
    canvas.box(box, p.line, 6.0 * scale);
    canvas.box(
        {box.left, box.top, box.left + box.width() * std::clamp(share, 0.0, 1.0), box.bottom},
        p.accent.faded(0.35), 6.0 * scale);
    line(canvas, doing, inset(box, 4.0 * scale), {.colour = p.ink, .height = k_body * scale});
}

void slanted_bars(ImguiCanvas& canvas, const plot::Box& box, plot::Colour ink, double scale) {
    constexpr double k_step = 22.0, k_thick = 8.0;
    const double side = std::min(box.width(), box.height()); // a bar's run across the strip
    const plot::Pen pen{ink, k_thick * scale, plot::Dash::solid};
    const bool lies = box.width() > box.height();
    canvas.keep_inside(box);
    for (double at = -side; at < std::max(box.width(), box.height()) + side; at += k_step * scale) {
        const std::array bar = lies ? std::array{plot::Point{box.left + at, box.bottom},
                                                 plot::Point{box.left + at + side, box.top}}
                                    : std::array{plot::Point{box.left, box.top + at + side},
                                                 plot::Point{box.right, box.top + at}};
        canvas.polyline(bar, pen);
    }
    canvas.keep_all();
}

} // namespace platewright::screen
