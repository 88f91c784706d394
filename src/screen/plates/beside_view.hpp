#pragma once
#include "screen/draw/chart_pane.hpp"
#include "screen/view_context.hpp"

namespace platewright::screen {

/// The plate on the bench beside another session: a reference the maker liked, or an earlier one of
/// its own.
class BesideView {
public:
    void draw(const ViewContext& context, plot::Box area);

private:
    void choices(const ViewContext& context, const plot::Box& box) const;
    void chart(const ViewContext& context, plot::Box box);
    void table(const ViewContext& context, plot::Box box) const;

    ChartPane pane_;
};

} // namespace platewright::screen
