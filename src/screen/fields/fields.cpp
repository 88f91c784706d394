#include "screen/fields/fields.hpp"

#include "screen/draw/parts.hpp"

#include <imgui_internal.h> // what the Tab key stops at, and whether the focus is shown

#include <algorithm>
#include <utility>

namespace platewright::screen {
namespace {

/// Dear ImGui writes into a buffer; this one grows with the writing.
int grow(ImGuiInputTextCallbackData* data) {
    if (data->EventFlag == ImGuiInputTextFlags_CallbackResize) {
        auto& value = *static_cast<std::string*>(data->UserData);
        value.resize(static_cast<std::size_t>(data->BufTextLen));
        data->Buf = value.data();
    }
    return 0;
}

bool is_about(const Complaint* of_form, std::string_view label) {
    return of_form != nullptr && !of_form->empty() && of_form->at == label;
}

constexpr int k_till_marked = 3; // pictures until the writing mark is in its field

/// The writing mark into the field that comes next, once.
void call(const ViewContext& context, Complaint& wrong) {
    if (std::exchange(wrong.calls, false)) {
        ImGui::SetKeyboardFocusHere();
        wrong.brings = k_till_marked; // the writing mark scrolls the field alone into sight
        context.owed = k_till_marked;
    }
}

/// A frame around the field just drawn, a bar at its left, and below it what is wrong.
void mark_wrong(const ViewContext& context, Complaint& wrong) {
    const plot::Point low = point(ImGui::GetItemRectMin()), high = point(ImGui::GetItemRectMax());
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    const plot::Colour ink = context.palette().on_bad;
    canvas.frame({low.x, low.y, high.x, high.y}, ink, 6.0 * scale, 2.5 * scale);
    canvas.box({low.x - 7.0 * scale, low.y, low.x - 3.0 * scale, high.y}, ink, 0.0);
    auto& last = ImGui::GetCurrentContext()->LastItemData;
    const auto of_field = last; // who asks for the last item means the field
    complaint(context, wrong.words);
    if (wrong.brings > 0) {
        --wrong.brings;
        if (ImGui::GetItemRectMax().y > ImGui::GetCurrentWindow()->InnerClipRect.Max.y) {
            ImGui::SetScrollHereY(1.0F);
        }
    }
    last = of_field;
}

void wrapped(const ViewContext& context, std::string_view words, double height, plot::Colour colour,
             plot::Weight weight, double indent = 0.0) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const double width = static_cast<double>(ImGui::GetContentRegionAvail().x);
    ImguiCanvas canvas = context.canvas();
    const double left = static_cast<double>(at.x) + indent;
    const double top = static_cast<double>(at.y);
    const double used =
        paragraph(canvas, words, {left, top, left + width - indent, top}, height, colour, weight);
    ImGui::Dummy({static_cast<float>(width), static_cast<float>(used)});
}

// Of Dear ImGui from 1.90 on the Tab key stops at lists by itself; with an older one it passes over
// all but fields, and goes from whatever is no field to the first of all.
constexpr bool k_tab_passes_lists = IMGUI_VERSION_NUM < 19000;

bool tab_was_pressed() {
    return ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Tab)) && !ImGui::GetIO().KeyShift;
}

} // namespace

void label_line(const ViewContext& context, std::string_view words) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    // The frame of a field that has the focus stands 5 px off it.
    constexpr double frame = 5.0;
    const float height = context.look.px(k_small * 1.3) + static_cast<float>(frame);
    ImguiCanvas canvas = context.canvas();
    canvas.text(point(at), words,
                {.colour = context.palette().faint_ink,
                 .height = k_small * context.look.scale,
                 .upright = plot::Upright::top});
    ImGui::Dummy({1.0F, height - ImGui::GetStyle().ItemSpacing.y});
}

void begin_tab_stop() { ImGui::PushItemFlag(ImGuiItemFlags_Inputable, k_tab_passes_lists); }
void end_tab_stop() { ImGui::PopItemFlag(); }

void go_on_by_tab(const ViewContext& context, bool is_focused) {
    if (k_tab_passes_lists && is_focused && tab_was_pressed()) {
        ImGui::SetKeyboardFocusHere();
        context.owed = 3;
    }
}

void show_focus(const ViewContext& context) {
    bool& is_hidden = ImGui::GetCurrentContext()->NavDisableHighlight;
    if (is_hidden) {
        is_hidden = false;
        context.owed = 2;
    }
}

void hide_focus() { ImGui::GetCurrentContext()->NavDisableHighlight = true; }

void note_item(const ViewContext& context, std::string_view words) {
    // What is scrolled off the page is not there to be seen.
    const ImVec2 low = ImGui::GetWindowDrawList()->GetClipRectMin();
    const ImVec2 high = ImGui::GetWindowDrawList()->GetClipRectMax();
    const plot::Box seen{static_cast<double>(std::max(ImGui::GetItemRectMin().x, low.x)),
                         static_cast<double>(std::max(ImGui::GetItemRectMin().y, low.y)),
                         static_cast<double>(std::min(ImGui::GetItemRectMax().x, high.x)),
                         static_cast<double>(std::min(ImGui::GetItemRectMax().y, high.y))};
    if (seen.width() > 0.0 && seen.height() > 0.0) {
        context.look.note(words, seen);
    }
}

float item_width(const ViewContext& context, double width) {
    return width > 0.0 ? std::min(context.look.px(width), ImGui::GetContentRegionAvail().x)
                       : ImGui::GetContentRegionAvail().x;
}

Page::Page(const ViewContext& context, const char* id, const plot::Box& box) : context_(context) {
    if (context.stacks) {
        plot::Box ground = box;
        ground_.emplace(context, id, ground);
        const plot::Point padding = point(ImGui::GetStyle().WindowPadding);
        ImGui::SetCursorScreenPos(vec({box.left + padding.x, box.top + padding.y}));
        ImGui::BeginGroup();
        return;
    }
    ImGui::SetCursorScreenPos(vec({box.left, box.top}));
    ImGui::BeginChild(id, {static_cast<float>(box.width()), static_cast<float>(box.height())}, true,
                      ImGuiWindowFlags_NavFlattened);
}

Page::~Page() {
    if (!ground_) {
        ImGui::EndChild();
        return;
    }
    ImGui::EndGroup();
    ground_->reached(
        static_cast<double>(ImGui::GetItemRectMax().y + ImGui::GetStyle().WindowPadding.y));
}

void heading(const ViewContext& context, std::string_view words) {
    wrapped(context, words, k_lead * context.look.scale, context.palette().ink, plot::Weight::bold);
}
void text(const ViewContext& context, std::string_view words) {
    wrapped(context, words, k_body * context.look.scale, context.palette().ink,
            plot::Weight::regular);
}
void faint_text(const ViewContext& context, std::string_view words) {
    wrapped(context, words, k_body * context.look.scale, context.palette().faint_ink,
            plot::Weight::regular);
}
void complaint(const ViewContext& context, std::string_view words) {
    const double size = k_body * context.look.scale;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImguiCanvas canvas = context.canvas();
    canvas.mark({static_cast<double>(at.x) + 0.5 * size, static_cast<double>(at.y) + 0.6 * size},
                plot::Shape::cross, 0.8 * size, context.palette().on_bad);
    wrapped(context, words, size, context.palette().on_bad, plot::Weight::bold, 1.5 * size);
}

void complaint(const ViewContext& context, const Complaint& of_form) {
    if (!of_form.empty() && of_form.at.empty()) {
        complaint(context, of_form.words);
    }
}

bool field(const ViewContext& context, std::string_view label, std::string& value, double width,
           bool wants_focus, Complaint* of_form) {
    const bool is_wrong = is_about(of_form, label);
    label_line(context, label);
    if (is_wrong) {
        call(context, *of_form);
    }
    if (wants_focus) {
        ImGui::SetKeyboardFocusHere();
        context.owed = 3; // the writing mark arrives only then
    }
    ImGui::SetNextItemWidth(item_width(context, width));
    ImGui::PushID(label.data(), label.data() + label.size());
    // What is there is marked where the field has the writing mark by itself, also where it was the
    // last one written in: what is typed then takes its place.
    int& asked = *ImGui::GetStateStorage()->GetIntRef(ImGui::GetID("##asked"), -k_till_marked);
    asked = wants_focus ? ImGui::GetFrameCount() : asked;
    const bool is_marked = ImGui::GetFrameCount() - asked < k_till_marked;
    const bool entered = ImGui::InputText(
        "##field", value.data(), value.capacity() + 1,
        ImGuiInputTextFlags_CallbackResize | ImGuiInputTextFlags_EnterReturnsTrue |
            (is_marked ? ImGuiInputTextFlags_AutoSelectAll : ImGuiInputTextFlags_None),
        grow, &value);
    ImGui::PopID();
    note_item(context, "[" + std::string(label) + "]");
    if (is_wrong) {
        mark_wrong(context, *of_form);
    }
    if (entered && !is_wrong) { // where the form refuses it, the writing goes on here
        ImGui::SetKeyboardFocusHere(-1);
        context.owed = 3;
    }
    return entered;
}

void lines_field(const ViewContext& context, std::string_view label, std::string& value,
                 Complaint* of_form) {
    const bool is_wrong = is_about(of_form, label);
    label_line(context, label);
    if (is_wrong) {
        call(context, *of_form);
    }
    ImGui::PushID(label.data(), label.data() + label.size());
    ImGui::InputTextMultiline("##notes", value.data(), value.capacity() + 1,
                              {item_width(context, 0.0), context.look.px(86)},
                              ImGuiInputTextFlags_CallbackResize, grow, &value);
    ImGui::PopID();
    note_item(context, "[" + std::string(label) + "]");
    if (is_wrong) {
        mark_wrong(context, *of_form);
    }
}

bool drop_down(const ViewContext& context, std::string_view label, std::span<const std::string> all,
               std::size_t& chosen, double width) {
    label_line(context, label);
    ImGui::SetNextItemWidth(item_width(context, width));
    ImGui::PushID(label.data(), label.data() + label.size());
    bool changed = false;
    const char* shown = chosen < all.size() ? all[chosen].c_str() : "";
    begin_tab_stop();
    const bool open = ImGui::BeginCombo("##choice", shown);
    note_item(context, "[" + std::string(label) + "]");
    const bool is_focused = ImGui::IsItemFocused() && !open;
    if (is_focused) {
        show_focus(context);
    }
    if (open) {
        for (std::size_t i = 0; i < all.size(); ++i) {
            ImGui::PushID(static_cast<int>(i));
            const bool by_mouse_or_space = ImGui::Selectable(all[i].c_str(), i == chosen);
            if (by_mouse_or_space || entered(context)) {
                chosen = i;
                changed = true;
                ImGui::CloseCurrentPopup();
            }
            note_item(context, all[i]);
            if (i == chosen) {
                ImGui::SetItemDefaultFocus();
            }
            ImGui::PopID();
        }
        // What is struck here is the list's: Escape shuts it and nothing else, and a letter is no
        // key of the view behind it.
        context.keys.take_letters();
        if (context.keys.take(Key::escape)) {
            ImGui::CloseCurrentPopup();
        }
        ImGui::EndCombo();
    }
    end_tab_stop();
    go_on_by_tab(context, is_focused);
    ImGui::PopID();
    return changed;
}

bool flow_choice(const ViewContext& context, std::string_view label,
                 std::span<const std::string> all, std::size_t& chosen) {
    label_line(context, label);
    ImGui::PushID(label.data(), label.data() + label.size());
    bool changed = false;
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (flow_press(context, all[i], {}, i == chosen ? Stress::chosen : Stress::plain, i > 0)) {
            changed = i != chosen;
            chosen = i;
        }
    }
    ImGui::PopID();
    return changed;
}

bool flow_press(const ViewContext& context, std::string_view label, std::string_view key,
                bool strong, bool same_line) {
    return flow_press(context, label, key, strong ? Stress::strong : Stress::plain, same_line);
}

bool flow_press(const ViewContext& context, std::string_view label, std::string_view key,
                Stress stress, bool same_line) {
    const ImguiCanvas canvas = context.canvas();
    const double scale = context.look.scale;
    double width = canvas.measure(label, k_body * scale, plot::Weight::bold).width + 36.0 * scale;
    if (!key.empty()) {
        width += canvas.measure(key, k_small * scale, plot::Weight::bold).width + 28.0 * scale;
    }
    const float room = ImGui::GetWindowContentRegionMax().x + ImGui::GetWindowPos().x;
    const float after = ImGui::GetItemRectMax().x + ImGui::GetStyle().ItemSpacing.x;
    if (same_line && after + static_cast<float>(width) <= room) {
        ImGui::SameLine();
    }
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const plot::Point corner = point(at);
    return press(context, label, {corner.x, corner.y, corner.x + width, corner.y + 42.0 * scale},
                 key, stress);
}

RowGround row_ground(const ViewContext& context, int id, double height, bool chosen,
                     double indent) {
    const plot::Palette& p = context.palette();
    const double scale = context.look.scale;
    ImGui::PushID(id);
    const plot::Point corner = point(ImGui::GetCursorScreenPos());
    const double width = static_cast<double>(ImGui::GetContentRegionAvail().x);
    const bool pressed = ImGui::InvisibleButton("row", {static_cast<float>(width),
                                                        static_cast<float>(height * scale)}) ||
                         entered(context);
    ImGui::PopID();
    const plot::Box box{corner.x + indent * scale, corner.y, corner.x + width,
                        corner.y + height * scale};
    ImguiCanvas canvas = context.canvas();
    if (chosen || ImGui::IsItemHovered()) {
        canvas.box(box, p.accent.faded(chosen ? 0.2 : 0.1), 6.0 * scale);
    }
    if (chosen) {
        canvas.box({box.left, box.top, box.left + 5.0 * scale, box.bottom}, p.accent, 2.0 * scale);
    }
    if (ImGui::IsItemFocused() && ImGui::GetIO().NavVisible) {
        ImGui::GetWindowDrawList()->AddRect(vec({box.left, box.top}), vec({box.right, box.bottom}),
                                            packed(p.accent), context.look.px(6), 0,
                                            context.look.px(2.5));
    }
    return {pressed, box};
}

bool row(const ViewContext& context, int id, std::string_view main, std::string_view second,
         bool chosen, double indent) {
    const plot::Palette& p = context.palette();
    const double scale = context.look.scale;
    const auto [pressed, box] =
        row_ground(context, id, second.empty() ? 38.0 : 54.0, chosen, indent);
    ImguiCanvas canvas = context.canvas();
    plot::Box words{box.left + 14.0 * scale, box.top + 3.0 * scale, box.right - 8.0 * scale,
                    box.bottom - 3.0 * scale};
    if (!second.empty()) {
        line(canvas, second, take_bottom(words, 22.0 * scale),
             {.colour = p.faint_ink, .height = k_small * scale});
    }
    line(canvas, main, words,
         {.colour = p.ink, .height = k_body * scale, .weight = plot::Weight::bold});
    return pressed;
}

} // namespace platewright::screen
