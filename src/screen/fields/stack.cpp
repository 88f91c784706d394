#include "screen/fields/stack.hpp"

#include "screen/draw/parts.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

namespace platewright::screen {
namespace {
using plot::Box;

constexpr double k_margin = 12.0; // beside a view
// Dear ImGui shows nothing in the outer half of a window's padding: with the padding that a page's
// lines need, the window has to begin that much further left for the page's own edge to be seen.
// Nothing stands there.
constexpr double k_further = 8.0;
constexpr double k_part_gap = 10.0; // between its parts

void scroll_by_pages(const ViewContext& context) {
    const float page = 0.85F * ImGui::GetWindowHeight(); // a line or two stay in context
    if (context.keys.take(Key::page_down)) {
        ImGui::SetScrollY(std::min(ImGui::GetScrollMaxY(), ImGui::GetScrollY() + page));
    }
    if (context.keys.take(Key::page_up)) {
        ImGui::SetScrollY(std::max(0.0F, ImGui::GetScrollY() - page));
    }
    if (context.keys.take(Key::home)) {
        ImGui::SetScrollY(0.0F);
    }
    if (context.keys.take(Key::end)) {
        ImGui::SetScrollY(ImGui::GetScrollMaxY());
    }
}

} // namespace

ScrolledView::ScrolledView(const ViewContext& context, int id, const Box& box, bool always_bar)
    : context_(context) {
    const Look& look = context.look;
    ImGui::SetCursorScreenPos(vec({box.left - k_further * look.scale, box.top}));
    const ImVec2 page_padding = ImGui::GetStyle().WindowPadding;
    // Pages stand in it without a window of their own: their lines end where its own do.
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding,
                        {look.px(k_margin + k_further) + page_padding.x, 0.0F});
    ImGui::BeginChild(
        ImGui::GetID(("view" + std::to_string(id)).c_str()),
        {static_cast<float>(box.width()) + look.px(k_further), static_cast<float>(box.height())},
        false,
        ImGuiWindowFlags_AlwaysUseWindowPadding | ImGuiWindowFlags_NoBackground |
            ImGuiWindowFlags_NavFlattened |
            (always_bar ? ImGuiWindowFlags_AlwaysVerticalScrollbar : 0));
    ImGui::PopStyleVar();
    const plot::Point start = point(ImGui::GetCursorScreenPos()); // as far up as it is scrolled
    const double padding = static_cast<double>(page_padding.x);
    inside_ = {start.x - padding, start.y,
               start.x + static_cast<double>(ImGui::GetContentRegionAvail().x) + padding,
               start.y + box.height()};
    context.stacked_to = inside_.top;
}

ScrolledView::~ScrolledView() {
    ImGui::SetCursorScreenPos(vec({inside_.left, context_.stacked_to}));
    ImGui::Dummy({1.0F, 0.0F});
    if (!ImGui::GetIO().WantTextInput) {
        scroll_by_pages(context_);
    }
    ImGui::EndChild();
}

Box next_column(const ViewContext& context, Box& area, double width, double height) {
    const double gap = k_part_gap * context.look.scale;
    if (!context.stacks) {
        const Box part = take_left(area, width);
        take_left(area, gap);
        return part;
    }
    area.top = context.stacked_to;
    context.stacked_to += height + gap;
    return {area.left, area.top, area.right, area.top + height};
}

Box next_band(const ViewContext& context, Box& area, double height, double stacked_height) {
    if (context.stacks) {
        return next_column(context, area, 0.0, stacked_height);
    }
    const Box part = take_top(area, height);
    take_top(area, k_part_gap * context.look.scale);
    return part;
}

void take_working_bar(const ViewContext& context, Box& area, std::string_view doing, double share) {
    if (doing.empty()) {
        return;
    }
    const double scale = context.look.scale;
    working_bar(context,
                context.stacks ? next_column(context, area, 0.0, 40.0 * scale)
                               : take_bottom(area, 40.0 * scale),
                doing, share);
    if (!context.stacks) {
        take_bottom(area, k_part_gap * scale);
    }
}

void scroll_up(const ViewContext& context) {
    if (context.stacks) {
        ImGui::SetScrollY(0.0F);
    }
}

Growing::Growing(const ViewContext& context, const char* id, Box& box)
    : context_(context), top_(box.top), id_(ImGui::GetID(id)) {
    if (context.stacks) {
        box.bottom = box.top + static_cast<double>(ImGui::GetStateStorage()->GetFloat(id_));
    }
    ImguiCanvas canvas = context.canvas();
    sheet(canvas, context.look, box);
    if (context.stacks) {
        box.bottom = std::numeric_limits<double>::max();
    }
}

void Growing::reached(double bottom) const {
    if (!context_.stacks) {
        return;
    }
    const auto height = static_cast<float>(bottom - top_);
    if (std::abs(height - ImGui::GetStateStorage()->GetFloat(id_)) > 0.5F) {
        ImGui::GetStateStorage()->SetFloat(id_, height);
        context_.owed = std::max(context_.owed, 1);
    }
    context_.stacked_to = bottom + k_part_gap * context_.look.scale;
}

} // namespace platewright::screen
