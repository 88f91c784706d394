#pragma once
#include "plot/chart.hpp"
#include "screen/sight.hpp"

#include <memory>

namespace platewright::screen {

/// The plate on the bench beside another session: a reference the maker liked, or an earlier one of
/// its own.
class BesideView {
public:
    void draw(const Sight& sight, plot::Box area);

private:
    void choices(const Sight& sight, const plot::Box& box) const;
    void chart(const Sight& sight, const plot::Box& box);
    void table(const Sight& sight, plot::Box box) const;

    std::shared_ptr<const bench::PlateView> drawn_from_;
    const plot::Palette* drawn_in_ = nullptr;
    plot::Chart chart_;
};

} // namespace platewright::screen
