#pragma once
#include "plot/drift.hpp"
#include "screen/sight.hpp"

#include <memory>

namespace platewright::screen {

/// How the plate's modes moved as wood came off, and what the next gram is likely to do.
class DriftView {
public:
    void draw(const Sight& sight, plot::Box area);

private:
    void choices(const Sight& sight, plot::Box box);
    plot::Frame chart(const Sight& sight, const plot::Box& box);
    void pointer(const Sight& sight, const plot::Frame& frame, const plot::Box& words_box) const;
    void figures(const Sight& sight, plot::Box box) const;

    // The chart as it was last built, and from what.
    std::shared_ptr<const bench::PlateView> drawn_from_;
    const plot::Palette* drawn_in_ = nullptr;
    plot::DriftPicture picture_; // also holds what the maker chose to see
    plot::Chart chart_;
};

} // namespace platewright::screen
