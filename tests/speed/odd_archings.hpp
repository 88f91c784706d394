#pragma once
// Plates whose arching is not of the model's family, and what is true of each: shape, wood,
// thickness.
#include "plate/plan/plan.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numbers>
#include <random>
#include <vector>

namespace archings {

using namespace platewright;
using namespace platewright::plate;

/// Places along and across, 0 in the middle and 1 at the edge: height in parts of the rise.
using Curve = std::function<double(double)>;

inline double circle(double t) {
    constexpr double half = 177.5, sagitta = 11.0;
    constexpr double radius = (half * half + sagitta * sagitta) / (2.0 * sagitta);
    return (std::sqrt(radius * radius - half * half * t * t) - radius + sagitta) / sagitta;
}
inline Curve catenary(double bend) {
    return
        [=](double t) { return (std::cosh(bend) - std::cosh(bend * t)) / (std::cosh(bend) - 1.0); };
}
inline Curve power(double n) {
    return [=](double t) { return 1.0 - std::pow(t, n); };
}
inline Curve cosine(double n) {
    return [=](double s) { return std::pow(std::cos(0.5 * std::numbers::pi * s), n); };
}
// Curtate cycloid, crest outwards: s = (psi + lambda sin psi) / pi, height (1 + cos psi) / 2.
inline Curve cycloid(double lambda) {
    return [=](double s) {
        double psi = std::numbers::pi * s;
        for (int k = 0; k < 30; ++k)
            psi -= (psi + lambda * std::sin(psi) - std::numbers::pi * s) /
                   (1.0 + lambda * std::cos(psi) + 1e-9);
        return 0.5 * (1.0 + std::cos(psi));
    };
}

struct Shape {
    const char* name;
    Curve along, across;
    double arch_mm;
    double crest = 0.0;    // the long arch's highest place, along
    double lopsided = 0.0; // mm by which the left flank stands higher
    double varied = 0.0;   // by which the cross arch is raised to a greater power in the middle
};

inline std::vector<Shape> shapes() {
    return {{"recipe", circle, cycloid(0.25), 15.5},
            {"recipe, low", circle, cycloid(0.2), 13.0},
            {"recipe, crest forward", circle, cycloid(0.3), 15.0, 0.08},
            {"full along", power(5.0), cycloid(0.25), 15.0},
            {"full all over", power(4.0), cosine(1.3), 15.0},
            {"catenary, pinched", catenary(2.0), cosine(2.8), 16.0},
            {"catenary, lopsided", catenary(2.5), cosine(2.0), 15.0, 0.0, 0.6}};
}

inline Curve three_arcs() {
    // flat in the middle, twice as round beyond half way
    return [](double t) {
        const double h = t < 0.5 ? 1.0 - t * t : 0.75 - (t - 0.5) - 2.0 * (t - 0.5) * (t - 0.5);
        return (h + 0.25) / 1.25;
    };
}
/// Never looked at while the model's own priors of an arch were chosen.
inline std::vector<Shape> left_out() {
    return {{"arcs, fuller in the bouts", three_arcs(), cycloid(0.25), 15.0, 0.0, 0.0, 0.3},
            {"circle, fuller in the middle", circle, cosine(1.8), 15.5, 0.0, 0.0, -0.3},
            {"cosine, crest back, lopsided", cosine(1.7), cosine(2.2), 14.5, -0.06, 0.4, 0.2}};
}

struct Judged {
    Shape shape; // heights as a violin's
    bool is_top = false;
    double edge_mm = 4.0, higher = 1.0, thicker = 1.0; // beside a violin's
    Outline outline;
    std::vector<double> middle_mm, half_mm; // each mm along, smoothed by our own means
    PlateWood usual, wood;
    std::array<double, 6> graduation{};

    Judged(const Shape& s, bool top, modes::InstrumentKind kind = modes::InstrumentKind::violin)
        : shape(s), is_top(top), outline(*make_outline(usual_size(kind))) {
        if (kind == modes::InstrumentKind::cello) { // common practice, no source
            edge_mm = 5.0;
            higher = 1.7;
            thicker = 1.45;
        }
        const int last = static_cast<int>(outline.size.length_mm);
        constexpr int k_reach = 22; // a moving mean, where the model smooths by a bell
        for (int y = 0; y <= last; ++y) {
            double left = 0.0, right = 0.0;
            for (int j = -k_reach; j <= k_reach; ++j) {
                const auto e = outline.extent(std::clamp<double>(y + j, 0.5, last - 0.5));
                left += e.left_mm / (2 * k_reach + 1);
                right += e.right_mm / (2 * k_reach + 1);
            }
            middle_mm.push_back(0.5 * (left + right));
            half_mm.push_back(0.5 * (right - left));
        }
    }
    double outside_mm(Point p) const {
        const double last = static_cast<double>(half_mm.size() - 1);
        const double at = std::clamp(p.y_mm, 0.0, last - 1e-9);
        const auto i = static_cast<std::size_t>(at);
        const double part = at - static_cast<double>(i);
        const double half = (1 - part) * half_mm[i] + part * half_mm[i + 1];
        const double middle = (1 - part) * middle_mm[i] + part * middle_mm[i + 1];
        const double y = 2.0 * p.y_mm / outline.size.length_mm - 1.0;
        // the crest's place is moved, the ends stay
        const double t = std::abs(y - shape.crest * (1.0 - y * y));
        const double s = (p.x_mm - middle) / half;
        if (t >= 1.0 || std::abs(s) >= 1.0)
            return edge_mm;
        const double l = shape.along(t);
        const double c = std::pow(shape.across(std::abs(s)),
                                  1.0 + shape.varied * std::cos(std::numbers::pi * t));
        return edge_mm + higher * ((shape.arch_mm - 4.0) * l * c -
                                   shape.lopsided * l * s * (1.0 - s * s) * 2.6);
    }
    double normal_z(Point p) const {
        const double e = 0.25;
        const double x = outside_mm({p.x_mm + e, p.y_mm}) - outside_mm({p.x_mm - e, p.y_mm});
        const double y = outside_mm({p.x_mm, p.y_mm + e}) - outside_mm({p.x_mm, p.y_mm - e});
        return 1.0 / std::sqrt(1.0 + (x * x + y * y) / (4.0 * e * e));
    }
    double thickness_mm(Point p) const {
        const double x = 2.0 * p.x_mm / outline.size.lower_mm;
        const double y = 2.0 * p.y_mm / outline.size.length_mm - 1.0;
        return thicker * (graduation[0] + graduation[1] * std::exp(-2.2 * y * y - 2.5 * x * x) +
                          graduation[2] * x +
                          graduation[3] * std::exp(-std::pow((x - graduation[4]) / 0.5, 2) -
                                                   std::pow((y - graduation[5]) / 0.4, 2)));
    }
    void draw(std::mt19937& random) {
        const auto any = [&](double low, double high) {
            return std::uniform_real_distribution<double>(low, high)(random);
        };
        std::normal_distribution<double> normal;
        const Wood w = find_species(is_top ? "norway_spruce" : "red_maple")->wood;
        usual = {w, w};
        const FitPriors priors;
        Eigen::Vector4d logs;
        for (int k = 0; k < logs.size(); ++k)
            logs[k] = std::clamp(normal(random), -2.0, 2.0) * priors.log_wood[k];
        wood = scaled(usual, logs);
        const double denser = std::exp(priors.log_density * 0.7 * normal(random));
        wood.left.density_kg_m3 *= denser;
        wood.right.density_kg_m3 *= denser;
        graduation = {is_top ? any(2.7, 3.0) : any(2.9, 3.3),
                      is_top ? any(0.2, 0.5) : any(1.0, 1.8),
                      any(-0.05, 0.05),
                      any(-0.15, 0.15),
                      any(-0.4, 0.4),
                      any(-0.5, 0.5)};
    }
};

inline constexpr int k_plates = 20;
/// The plate with this number, 1 to k_plates: backs and tops under shapes(), then under left_out().
/// random: begun anew for it.
inline Judged judged(int number, int draw, std::mt19937& random) {
    std::vector<Shape> all = shapes();
    const auto seen = static_cast<int>(all.size());
    int at = number - 1;
    if (at >= 2 * seen) {
        all = left_out();
        at -= 2 * seen;
    }
    const auto count = static_cast<int>(all.size());
    random.seed(static_cast<unsigned>(100 * number + draw));
    Judged plate(all.at(static_cast<std::size_t>(at % count)), at >= count);
    plate.draw(random);
    return plate;
}

} // namespace archings
