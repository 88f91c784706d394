#pragma once
#include "screen/chart_pane.hpp"
#include "screen/sight.hpp"

namespace platewright::screen {

/// The plate on the bench beside another session: a reference the maker liked, or an earlier one of
/// its own.
class BesideView {
public:
    void draw(const Sight& sight, plot::Box area);

private:
    void choices(const Sight& sight, const plot::Box& box) const;
    void chart(const Sight& sight, plot::Box box);
    void table(const Sight& sight, plot::Box box) const;

    ChartPane pane_;
};

} // namespace platewright::screen
