// Lines drawn with fewer points look the same.
#include "plot/canvas.hpp"
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <random>

using namespace platewright::plot;

namespace {

double distance_to(Point p, Point a, Point b) {
    const double length2 = (b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y);
    const double t =
        length2 > 0.0
            ? std::clamp(((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / length2, 0.0,
                         1.0)
            : 0.0;
    return std::hypot(p.x - a.x - t * (b.x - a.x), p.y - a.y - t * (b.y - a.y));
}

double furthest_from(const std::vector<Point>& line, const std::vector<Point>& drawn) {
    double furthest = 0.0;
    for (const Point p : line) {
        double nearest = 1e9;
        for (std::size_t i = 1; i < drawn.size(); ++i) {
            nearest = std::min(nearest, distance_to(p, drawn[i - 1], drawn[i]));
        }
        furthest = std::max(furthest, nearest);
    }
    return furthest;
}

} // namespace

TEST_CASE("a straight line needs its two ends only") {
    std::vector<Point> line;
    for (int i = 0; i <= 100; ++i) {
        line.push_back({0.5 * i, 3.0 - 0.25 * i});
    }
    REQUIRE(straightened(line, 0.1).size() == 2);
}

TEST_CASE("no point of a straightened line lies further off than was allowed") {
    std::mt19937 random(11);
    std::normal_distribution<double> step(0.0, 1.0);
    for (const double roughness : {0.02, 0.3, 3.0}) {
        std::vector<Point> line{{0.0, 0.0}};
        for (int i = 1; i < 800; ++i) {
            line.push_back({0.7 * i, line.back().y + roughness * step(random)});
        }
        const auto drawn = straightened(line, 0.2);
        CHECK(drawn.size() < line.size());
        CHECK(furthest_from(line, drawn) <= 0.2 + 1e-9);
        CHECK(drawn.back().x == line.back().x);
    }
}

TEST_CASE("a line that turns back, closes or stands still keeps its shape") {
    std::vector<Point> line;
    for (int i = 0; i <= 360; ++i) { // twice around, and a pause at every tenth point
        const double angle = i * 3.14159265358979 / 90.0;
        line.push_back({40.0 * std::cos(angle), 25.0 * std::sin(angle)});
        if (i % 10 == 0) {
            line.push_back(line.back());
        }
    }
    line.push_back({-60.0, 0.0}); // out along one way
    line.push_back({20.0, 0.0});  // and back on it
    const auto drawn = straightened(line, 0.2);
    CHECK(drawn.size() < line.size() / 2);
    CHECK(furthest_from(line, drawn) <= 0.2 + 1e-9);
}

TEST_CASE("a line of one point or none stays as it is") {
    CHECK(straightened({}, 0.2).empty());
    const std::vector<Point> one{{3.0, 4.0}};
    CHECK(straightened(one, 0.2).size() == 1);
}
