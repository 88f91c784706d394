#pragma once
#include "screen/help/guide_text.hpp"
#include "screen/view_context.hpp"

#include <optional>
#include <string>
#include <utility>

namespace platewright::screen {

/// The guide's part for a place of the window, in its stead, until F12 or Esc.
class GuideView {
public:
    bool is_open() const { return is_open_; }
    void toggle() {
        is_open_ = !is_open_;
        told_.clear();
    }
    /// Whether a first walk is asked for.
    bool draw(const ViewContext& context, const plot::Box& box);
    /// What became of that.
    void tell(std::string sentence) { told_ = std::move(sentence); }

private:
    bool is_open_ = false;
    std::string told_;
    std::optional<Place> place_; ///< whose part was read, in which language
    wording::Language language_ = wording::Language::english;
    std::vector<GuideBlock> blocks_;
};

} // namespace platewright::screen
