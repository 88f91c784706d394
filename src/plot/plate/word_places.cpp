#include "plot/plate/word_places.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

namespace platewright::plot {
namespace {

constexpr double k_figures = 0.72; // of the letters' height

bool overlap(const Box& a, const Box& b) {
    return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

} // namespace

Box around(Point middle, Size size, double gap) {
    return {middle.x - 0.5 * size.width - gap, middle.y - 0.5 * size.height - gap,
            middle.x + 0.5 * size.width + gap, middle.y + 0.5 * size.height + gap};
}

void WordPlaces::write(Point middle, const std::string& words, const Box& box, double height,
                       Weight weight) {
    canvas_.box(box, Colour{255, 255, 255, 200}, 0.2 * em_);
    canvas_.text(middle, words,
                 {.colour = Colour{0, 0, 0, 255},
                  .height = height,
                  .across = Across::centre,
                  .weight = weight});
    taken_.push_back(box);
}

bool WordPlaces::is_in_room(const Box& box) const {
    return box.left >= room_.left && box.right <= room_.right && box.top >= room_.top &&
           box.bottom <= room_.bottom;
}

Box WordPlaces::figures_box(Point at, const std::string& words) const {
    return around(at, canvas_.measure(words, k_figures * em_, Weight::regular), 0.1 * em_);
}

void WordPlaces::will_stand(Point at, const std::string& figures) {
    expected_.push_back(figures_box(at, figures));
}

bool WordPlaces::put_on(Point at, const std::string& words) {
    const Box box = figures_box(at, words);
    if (!is_in_room(box) || is_taken(box)) {
        return false;
    }
    write(at, words, box, k_figures * em_, Weight::regular);
    return true;
}

void WordPlaces::put_beside(Point at, const std::string& words, double away) {
    const double height = 0.85 * em_;
    const Size size = canvas_.measure(words, height, Weight::bold);
    const double aside = away + 0.5 * size.width, up = away + 0.5 * size.height;
    std::optional<Point> best;
    std::ptrdiff_t fewest = 0;
    for (const Point step :
         {Point{aside, 0.0}, Point{-aside, 0.0}, Point{0.0, -up}, Point{0.0, up}}) {
        const Point middle{at.x + step.x, at.y + step.y};
        const Box box = around(middle, size, 0.1 * em_);
        const auto hidden = std::ranges::count_if(
            expected_, [&](const Box& figures) { return overlap(box, figures); });
        if (is_in_room(box) && !is_taken(box) && (!best || hidden < fewest)) {
            best = middle;
            fewest = hidden;
        }
    }
    if (best) {
        write(*best, words, around(*best, size, 0.1 * em_), height, Weight::bold);
    }
}

bool WordPlaces::is_taken(const Box& box) const {
    return std::any_of(taken_.begin(), taken_.end(),
                       [&](const Box& other) { return overlap(box, other); });
}

void WordPlaces::put_along(const std::vector<Point>& line, const std::string& words, double height,
                           const std::function<bool(const Box&)>& is_clear) {
    const Size size = canvas_.measure(words, height, Weight::regular);
    constexpr int k_tries = 24;
    constexpr double k_golden = 0.6180339887; // spreads the tries evenly, however many
    for (int i = 0; i < k_tries; ++i) {
        const double share = std::fmod(0.5 + k_golden * i, 1.0);
        const Point at =
            line[static_cast<std::size_t>(share * static_cast<double>(line.size() - 1))];
        const Box box = around(at, size, 1.5);
        if (is_in_room(box) && !is_taken(around(at, size, 0.6 * em_)) && is_clear(box)) {
            write(at, words, box, size.height, Weight::regular);
            return;
        }
    }
}

} // namespace platewright::plot
