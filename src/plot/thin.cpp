#include "plot/thin.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace platewright::plot {

std::vector<Point> thin(const std::vector<Point>& line) {
    std::vector<Point> kept;
    kept.reserve(std::min<std::size_t>(line.size(), 8192));
    for (std::size_t i = 0; i < line.size();) {
        const double column = std::floor(line[i].x);
        std::size_t low = i;
        std::size_t high = i;
        std::size_t last = i;
        for (std::size_t j = i; j < line.size() && std::floor(line[j].x) == column; ++j) {
            last = j;
            low = line[j].y < line[low].y ? j : low;
            high = line[j].y > line[high].y ? j : high;
        }
        std::array<std::size_t, 4> stay{i, low, high, last};
        std::sort(stay.begin(), stay.end());
        const auto* end = std::unique(stay.begin(), stay.end());
        for (const auto* k = stay.begin(); k != end; ++k) {
            kept.push_back(line[*k]);
        }
        i = last + 1;
    }
    return kept;
}

} // namespace platewright::plot
