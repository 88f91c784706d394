#pragma once
#include "plot/chart.hpp"
#include "screen/bench_side.hpp"
#include "screen/sight.hpp"

#include <memory>
#include <optional>

namespace platewright::screen {

/// The place to stand at with both hands full: the answer to a tap, the modes in large figures, the
/// spectrum, where to strike next. Everything goes by single keys too.
class BenchView {
public:
    void draw(const Sight& sight, plot::Box area);

private:
    void keys(const Sight& sight);
    void figures(const Sight& sight, plot::Box box) const;
    void doubt(const Sight& sight, const plot::Box& box) const;
    void spectrum(const Sight& sight, const plot::Box& box);
    void naming_bar(const Sight& sight, plot::Box box);

    BenchSide side_;
    std::optional<std::size_t> naming_; // index of the mode that is being given a name

    // The chart as it was last built, and from what.
    std::shared_ptr<const bench::PlateView> drawn_from_;
    const plot::Palette* drawn_in_ = nullptr;
    plot::Chart chart_;
};

} // namespace platewright::screen
