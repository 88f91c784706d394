#pragma once
#include "plot/drift.hpp"
#include "screen/chart_pane.hpp"
#include "screen/sight.hpp"

#include <string_view>

namespace platewright::screen {

/// How the plate's modes moved as wood came off, and what the next gram is likely to do.
class DriftView {
public:
    void draw(const Sight& sight, plot::Box area);

private:
    void choices(const Sight& sight, plot::Box box);
    void air_switch(const Sight& sight, const plot::Box& box) const;
    void in_one_air(const Sight& sight, const plot::Box& box, std::string_view remark) const;
    plot::Frame chart(const Sight& sight, plot::Box box);
    void pointer(const Sight& sight, const plot::Frame& frame, const plot::Box& words_box) const;
    void figures(const Sight& sight, plot::Box box) const;

    plot::DriftPicture picture_; // also holds what the maker chose to see
    ChartPane pane_;
};

} // namespace platewright::screen
