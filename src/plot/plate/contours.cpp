#include "plot/plate/contours.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>
#include <utility>

namespace platewright::plot {
namespace {

struct Corner {
    Point at;
    double value = 0.0;
};

Point crossing(const Corner& a, const Corner& b, double level) {
    const double t = (level - a.value) / (b.value - a.value);
    return {a.at.x + t * (b.at.x - a.at.x), a.at.y + t * (b.at.y - a.at.y)};
}

/// What is left of a convex piece where sign·(value − level) ≥ 0 (Sutherland and Hodgman's clipping
/// against one line).
std::vector<Corner> kept(const std::vector<Corner>& piece, double level, double sign) {
    std::vector<Corner> out;
    for (std::size_t i = 0; i < piece.size(); ++i) {
        const Corner& a = piece[i];
        const Corner& b = piece[(i + 1) % piece.size()];
        const bool a_in = sign * (a.value - level) >= 0.0;
        const bool b_in = sign * (b.value - level) >= 0.0;
        if (a_in) {
            out.push_back(a);
        }
        if (a_in != b_in) {
            out.push_back({crossing(a, b, level), level});
        }
    }
    return out;
}

std::vector<Corner> corners_of(const TriangleField& field, const std::array<int, 3>& triangle) {
    std::vector<Corner> corners;
    for (const int node : triangle) {
        const auto i = static_cast<std::size_t>(node);
        corners.push_back({field.at.at(i), field.values.at(i)});
    }
    return corners;
}

using Side = std::pair<int, int>; // a triangle's side, lower number first

Side side_of(int a, int b) { return {std::min(a, b), std::max(a, b)}; }

/// For each side that the level crosses, the sides it goes on to.
std::map<Side, std::vector<Side>> crossings(const TriangleField& field, double level) {
    std::map<Side, std::vector<Side>> links;
    for (const auto& t : field.triangles) {
        std::vector<Side> crossed;
        for (std::size_t k = 0; k < 3; ++k) {
            const int a = t[k];
            const int b = t[(k + 1) % 3];
            const bool a_above = field.values[static_cast<std::size_t>(a)] >= level;
            const bool b_above = field.values[static_cast<std::size_t>(b)] >= level;
            if (a_above != b_above) {
                crossed.push_back(side_of(a, b));
            }
        }
        if (crossed.size() == 2) {
            links[crossed[0]].push_back(crossed[1]);
            links[crossed[1]].push_back(crossed[0]);
        }
    }
    return links;
}

Point place_on(const TriangleField& field, const Side& side, double level) {
    const auto a = static_cast<std::size_t>(side.first);
    const auto b = static_cast<std::size_t>(side.second);
    return crossing({field.at[a], field.values[a]}, {field.at[b], field.values[b]}, level);
}

/// Takes the chain that begins at a side out of the links.
std::vector<Point> take_chain(const TriangleField& field, double level,
                              std::map<Side, std::vector<Side>>& links, Side at) {
    std::vector<Point> chain{place_on(field, at, level)};
    for (;;) {
        auto& onward = links[at];
        if (onward.empty()) {
            return chain;
        }
        const Side next = onward.back();
        onward.pop_back();
        std::erase(links[next], at);
        chain.push_back(place_on(field, next, level));
        at = next;
    }
}

} // namespace

std::vector<std::vector<Point>> band(const TriangleField& field, double low, double high) {
    if (field.values.size() != field.at.size()) {
        throw std::invalid_argument("band: a field has one value a point");
    }
    std::vector<std::vector<Point>> pieces;
    for (const auto& triangle : field.triangles) {
        const auto piece = kept(kept(corners_of(field, triangle), low, 1.0), high, -1.0);
        if (piece.size() < 3) {
            continue;
        }
        std::vector<Point> places;
        for (const Corner& corner : piece) {
            places.push_back(corner.at);
        }
        pieces.push_back(std::move(places));
    }
    return pieces;
}

std::vector<std::vector<Point>> contour(const TriangleField& field, double level) {
    if (field.values.size() != field.at.size()) {
        throw std::invalid_argument("contour: a field has one value a point");
    }
    auto links = crossings(field, level);
    std::vector<std::vector<Point>> chains;
    for (const bool open_ones : {true, false}) { // those that end at the edge first
        for (auto& [side, onward] : links) {
            if (onward.size() == 1 || (!open_ones && !onward.empty())) {
                chains.push_back(take_chain(field, level, links, side));
            }
        }
    }
    return chains;
}

std::vector<double> round_levels(double low, double high, int most) {
    if (!(high > low) || most < 2) {
        return {};
    }
    const double least_step = (high - low) / (most + 1);
    double step = std::pow(10.0, std::floor(std::log10(least_step)));
    for (const double times : {2.0, 2.5, 2.0, 2.0}) {
        if (step >= least_step) {
            break;
        }
        step *= times;
    }
    std::vector<double> levels;
    for (double k = std::floor(low / step) + 1.0; k * step < high - 1e-9 * step; k += 1.0) {
        levels.push_back(k * step);
    }
    return levels;
}

} // namespace platewright::plot
