#include "plate/plan/sensitivity.hpp"
#include "plate/shell/shape_names.hpp"
#include "support/catch.hpp"

#include <cmath>
#include <random>

using namespace platewright;
using namespace platewright::plate;

namespace {

// A plate of the family, by a few numbers that go evenly from a well-known one to any other.
struct Recipe {
    OutlineSize size{355.0, 167.0, 110.0, 207.0};
    ArchingProfile arching{15.0, 4.0, 2.6, 2.0};
    double middle_mm = 4.3, edge_mm = 2.5, lopsided_mm = 0.0;
    Eigen::Vector4d wood = Eigen::Vector4d::Zero();

    static Recipe between(const Recipe& a, const Recipe& b, double t) {
        const auto mix = [t](double p, double q) { return std::lerp(p, q, t); };
        Recipe r;
        r.size = {mix(a.size.length_mm, b.size.length_mm), mix(a.size.upper_mm, b.size.upper_mm),
                  mix(a.size.waist_mm, b.size.waist_mm), mix(a.size.lower_mm, b.size.lower_mm)};
        r.arching = {mix(a.arching.arch_mm, b.arching.arch_mm),
                     mix(a.arching.edge_mm, b.arching.edge_mm),
                     mix(a.arching.long_fullness, b.arching.long_fullness),
                     mix(a.arching.cross_fullness, b.arching.cross_fullness)};
        r.middle_mm = mix(a.middle_mm, b.middle_mm);
        r.edge_mm = mix(a.edge_mm, b.edge_mm);
        r.lopsided_mm = mix(a.lopsided_mm, b.lopsided_mm);
        r.wood = (1.0 - t) * a.wood + t * b.wood;
        return r;
    }
};

struct Solved {
    PlateModel model;
    ShellModes modes;
    std::array<ShapeName, 3> names;
};

Solved solve(const Recipe& r) {
    PlateModel model({*make_outline(r.size), r.arching, {}, {}, {}}, 24.0);
    const Wood maple = scaled(find_species("red_maple")->wood, r.wood);
    const auto h = model.thickness_at([&](Point p) {
        const double x = 2.0 * p.x_mm / r.size.lower_mm, y = 2.0 * p.y_mm / r.size.length_mm - 1.0;
        return r.edge_mm + (r.middle_mm - r.edge_mm) * std::exp(-2.2 * y * y - 2.5 * x * x) +
               r.lopsided_mm * x;
    });
    auto modes = model.solve(h, {maple, maple}, 10);
    auto names = ShapeJudge(model).names(modes.shapes);
    return {std::move(model), std::move(modes), std::move(names)};
}

// Motion of another plate's modes at this plate's nodes: the outlines differ a little, so places
// are taken in parts of length and width.
Eigen::MatrixXd carried_over(const Solved& from, const Recipe& from_recipe, const Solved& to,
                             const Recipe& to_recipe) {
    Eigen::MatrixXd shapes = Eigen::MatrixXd::Zero(6 * static_cast<Eigen::Index>(to.model.nodes()),
                                                   from.modes.shapes.cols());
    for (std::size_t i = 0; i < to.model.nodes(); ++i) {
        const Point p = to.model.points()[i];
        const Point q{p.x_mm * from_recipe.size.lower_mm / to_recipe.size.lower_mm,
                      p.y_mm * from_recipe.size.length_mm / to_recipe.size.length_mm};
        std::size_t nearest = 0;
        double best = 1e9;
        for (std::size_t k = 0; k < from.model.nodes(); ++k) {
            const Point s = from.model.points()[k];
            const double d = std::hypot(s.x_mm - q.x_mm, s.y_mm - q.y_mm);
            if (d < best) {
                best = d;
                nearest = k;
            }
        }
        shapes.row(static_cast<Eigen::Index>(6 * i + 2)) =
            from.modes.shapes.row(static_cast<Eigen::Index>(6 * nearest + 2));
    }
    return shapes;
}

Recipe random_recipe(std::mt19937& random) {
    const auto any = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    Recipe r;
    const double scale = any(0.95, 1.2);
    r.size = {355.0 * scale, 167.0 * scale * any(0.96, 1.05), 110.0 * scale * any(0.95, 1.08),
              207.0 * scale * any(0.97, 1.04)};
    r.arching = {scale * any(9.0, 18.0), 4.0, any(2.2, 3.2), any(1.8, 2.4)};
    r.middle_mm = any(2.8, 5.0);
    r.edge_mm = any(2.2, 3.2);
    r.lopsided_mm = any(-0.25, 0.25);
    for (int k = 0; k < 4; ++k)
        r.wood[k] = any(-0.25, 0.25);
    return r;
}

} // namespace

TEST_CASE("on a usual back and a usual top modes 1, 2 and 5 are the first, second and fifth") {
    const auto back = solve(Recipe{});
    CHECK(back.names[0].index == 0);
    CHECK(back.names[1].index == 1);
    CHECK(back.names[2].index == 4);
    for (const auto& name : back.names)
        CHECK(name.sure);
}

TEST_CASE("on 50 other plates the names are those followed from a usual one, or called doubtful") {
    std::mt19937 random(4);
    const Recipe usual;
    const auto known = solve(usual);
    int right = 0, doubtful = 0, wrong = 0;
    for (int plate = 0; plate < 50; ++plate) {
        const Recipe other = random_recipe(random);
        std::array<int, 3> truth{known.names[0].index, known.names[1].index, known.names[2].index};
        Solved at = known;
        Recipe at_recipe = usual;
        constexpr int k_steps = 5;
        for (int step = 1; step <= k_steps; ++step) {
            const Recipe next_recipe =
                Recipe::between(usual, other, step / static_cast<double>(k_steps));
            Solved next = solve(next_recipe);
            const auto pairs = follow(next.model, carried_over(at, at_recipe, next, next_recipe),
                                      next.modes.shapes, 0.0);
            for (auto& index : truth)
                index = index < 0 ? -1 : pairs[static_cast<std::size_t>(index)];
            at = std::move(next);
            at_recipe = next_recipe;
        }
        for (std::size_t k = 0; k < 3; ++k) {
            if (at.names[k].index == truth[k] && at.names[k].sure)
                ++right;
            else if (!at.names[k].sure)
                ++doubtful;
            else
                ++wrong;
        }
    }
    INFO("right " << right << ", doubtful " << doubtful << ", wrong " << wrong);
    CHECK(wrong == 0);
    CHECK(right >= 120); // of 150
}

TEST_CASE("on a nearly flat plate the ring mode is called doubtful or is a ring") {
    for (const double arch_mm : {4.0, 5.0, 6.0, 8.0}) {
        Recipe flat;
        flat.arching.arch_mm = arch_mm;
        const auto plate = solve(flat);
        const auto facts = ShapeJudge(plate.model).facts(plate.modes.shapes);
        const auto& ring = plate.names[2];
        INFO("arch " << arch_mm << " mm, likeness " << ring.likeness << ", " << ring.doubt);
        if (ring.sure) {
            CHECK(facts[static_cast<std::size_t>(ring.index)].bowl > 0.5);
            CHECK(facts[static_cast<std::size_t>(ring.index)].ring > 0.55);
        }
    }
}
