#pragma once
#include "screen/guide_text.hpp"
#include "screen/sight.hpp"

#include <optional>

namespace platewright::screen {

/// The guide's part for a place of the window, in its stead, until F10 or Esc.
class GuideView {
public:
    bool is_open() const { return is_open_; }
    void toggle() { is_open_ = !is_open_; }
    void draw(const Sight& sight, const plot::Box& box);

private:
    bool is_open_ = false;
    std::optional<Place> place_; ///< whose part was read, in which language
    wording::Language language_ = wording::Language::english;
    std::vector<GuideBlock> blocks_;
};

} // namespace platewright::screen
