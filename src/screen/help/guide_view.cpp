#include "screen/help/guide_view.hpp"

#include "screen/fields/fields.hpp"

#include <algorithm>

namespace platewright::screen {
namespace {

/// As the guide's marks call a place.
std::string_view mark_of(Place place) {
    switch (place) {
    case Place::bench:
        return "bench";
    case Place::drift:
        return "drift";
    case Place::session:
        return "session";
    case Place::beside:
        return "beside";
    case Place::plates:
        return "plates";
    case Place::sound:
        return "sound";
    case Place::settings:
        return "settings";
    case Place::carving:
        return "carving";
    case Place::files:
        return "files";
    case Place::wood:
        return "wood";
    }
    return {};
}

void scroll_by_keys(const ViewContext& context) {
    const float page = 0.85F * ImGui::GetWindowHeight(); // a line or two stay in context
    const float line = context.look.px(3.0 * k_body);
    float by = 0.0F;
    by += context.keys.take(Key::page_down) ? page : 0.0F;
    by -= context.keys.take(Key::page_up) ? page : 0.0F;
    by += context.keys.take(Key::down) ? line : 0.0F;
    by -= context.keys.take(Key::up) ? line : 0.0F;
    if (by != 0.0F)
        ImGui::SetScrollY(std::clamp(ImGui::GetScrollY() + by, 0.0F, ImGui::GetScrollMaxY()));
    if (context.keys.take(Key::home))
        ImGui::SetScrollY(0.0F);
    if (context.keys.take(Key::end))
        ImGui::SetScrollY(ImGui::GetScrollMaxY());
}

/// A line of a table: it stands by its neighbours, not as far off as a paragraph.
void row(const ViewContext& context, std::string_view words, bool goes_on) {
    if (goes_on)
        ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {0.0F, 0.0F});
    text(context, words);
    if (goes_on)
        ImGui::PopStyleVar();
}

} // namespace

bool GuideView::draw(const ViewContext& context, const plot::Box& box) {
    if (place_ != context.place || language_ != wording::spoken()) {
        place_ = context.place;
        language_ = wording::spoken();
        blocks_ = guide_part(read_guide(language_), mark_of(context.place));
    }
    const Page page(context, "guide", box);
    if (flow_press(context, say("Close the guide"), "F12") || context.keys.take(Key::escape))
        is_open_ = false;
    const bool can_walk = context.now.recorded || context.outside.open_demo;
    const bool walks =
        can_walk && (flow_press(context, say("A first walk through the demo"), "W", false, true) ||
                     context.keys.take(U'w'));
    if (!told_.empty())
        text(context, told_);
    if (blocks_.empty())
        text(context, say("The guide is not installed beside this program."));
    for (std::size_t i = 0; i < blocks_.size(); ++i) {
        const GuideBlock& block = blocks_[i];
        switch (block.kind) {
        case GuideBlock::Kind::heading:
            heading(context, block.words);
            break;
        case GuideBlock::Kind::item:
            text(context, "\u2022 " + block.words);
            break;
        case GuideBlock::Kind::row:
            row(context, block.words,
                i + 1 < blocks_.size() && blocks_[i + 1].kind == GuideBlock::Kind::row);
            break;
        case GuideBlock::Kind::command:
            faint_text(context, block.words);
            break;
        case GuideBlock::Kind::paragraph:
            text(context, block.words);
            break;
        }
    }
    if (!context.stacks)
        scroll_by_keys(context);
    return walks;
}

} // namespace platewright::screen
