#pragma once
#include "screen/bench_side.hpp"
#include "screen/chart_pane.hpp"
#include "screen/first_run.hpp"
#include "screen/sight.hpp"

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
    FirstRun first_run_;
    ChartPane pane_;
};

} // namespace platewright::screen
