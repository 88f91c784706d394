#include "screen/bench/slanted_bars.hpp"

#include <algorithm>
#include <array>

namespace platewright::screen {

void slanted_bars(ImguiCanvas& canvas, const plot::Box& box, plot::Colour ink, double scale) {
    constexpr double k_step = 22.0, k_thick = 8.0;
    const double side = std::min(box.width(), box.height()); // a bar's run across the strip
    const plot::Pen pen{ink, k_thick * scale, plot::Dash::solid};
    const bool lies = box.width() > box.height();
    canvas.keep_inside(box);
    for (double at = -side; at < std::max(box.width(), box.height()) + side; at += k_step * scale) {
        const std::array bar = lies ? std::array{plot::Point{box.left + at, box.bottom},
                                                 plot::Point{box.left + at + side, box.top}}
                                    : std::array{plot::Point{box.left, box.top + at + side},
                                                 plot::Point{box.right, box.top + at}};
        canvas.polyline(bar, pen);
    }
    canvas.keep_all();
}

} // namespace platewright::screen
