#include "plate/fit/fit.hpp"
#include "support/catch.hpp"
#include "violin.hpp"

#include <algorithm>
#include <array>
#include <cmath>

using namespace platewright;
using namespace platewright::plate;

namespace {

PlateForm weighed_form(bool is_top) {
    PlateForm form{test::violin(), {}, {}, {}, {}};
    if (is_top) {
        form.f_holes = f_hole_loops(usual_f_hole(form.outline.size));
        form.bar = usual_bar(form.outline.size);
    }
    return form;
}

struct Laid {
    PlateModel model;
    PlateWood usual, truth;
    Eigen::VectorXd thickness;
    std::array<ShapeName, 3> names;
    ShellModes modes;

    explicit Laid(bool is_top, double air_kg_m3 = 0.0)
        : model(weighed_form(is_top), 28.0, air_kg_m3) {
        const Wood w = find_species(is_top ? "norway_spruce" : "red_maple")->wood;
        usual = {w, w};
        truth = scaled(usual, {0.2, -0.25, 0.1, 0.1});
        thickness = model.thickness_at([&](Point p) {
            const double x = p.x_mm / 103.5, y = p.y_mm / 177.5 - 1.0;
            return 2.9 + (is_top ? 0.3 : 1.5) * std::exp(-2.2 * y * y - 2.5 * x * x);
        });
        modes = model.solve(thickness, truth, 10);
        names = ShapeJudge(model).names(modes.shapes);
    }
    std::vector<int> indices() const { return {names[0].index, names[1].index, names[2].index}; }
    std::vector<std::vector<WeighedMode>> weigh(std::span<const LaidMass> masses,
                                                const PlateWood& wood, const ShellModes& of,
                                                bool with_slopes) const {
        return weighed_modes(model, thickness, ArchShift::Zero(), wood, of, masses, indices(),
                             with_slopes);
    }
    // What a maker would have measured, without noise.
    FitSession session(std::span<const LaidMass> true_places,
                       std::span<const LaidMass> said) const {
        FitSession s;
        s.thickness_mm = thickness;
        s.mass_g = model.mass_g(thickness, truth);
        for (const auto& n : names)
            s.modes.push_back({n.number, modes.frequency_hz[n.index], 0.05});
        const auto weighed = weigh(true_places, truth, modes, false);
        for (std::size_t i = 0; i < said.size(); ++i) {
            WeighedReading reading{said[i], {}};
            for (const WeighedMode& m : weighed[i])
                for (const auto& n : names)
                    if (n.index == m.index)
                        reading.shifts.push_back({n.number, m.log_ratio, 3e-4});
            s.weighings.push_back(reading);
        }
        return s;
    }
};

const std::vector<LaidMass> k_six{{{0, 178}, 1.0}, {{0, 8}, 1.0},    {{0, 346}, 1.0},
                                  {{75, 70}, 1.0}, {{-75, 70}, 1.0}, {{0, 80}, 1.0}};

} // namespace

TEST_CASE("a tenth of a gram lowers modes by first order, as Rayleigh has it") {
    // ln(f/f0) = -m |a|^2 / 2 to first order (Lord Rayleigh, Theory of Sound, section 90)
    for (const double air : {0.0, 1.2}) {
        const Laid back(false, air);
        const std::vector<LaidMass> light{{{40, 120}, 0.1}, {{60, 70}, 0.1}};
        for (const auto& of_mass : back.weigh(light, back.truth, back.modes, false))
            for (const WeighedMode& m : of_mass)
                CHECK(m.log_ratio == Approx(-0.5e-4 * m.weight_per_kg).epsilon(0.01).margin(1e-6));
    }
}

TEST_CASE("over the whole plate a mode weighs the plate's mass") {
    // sum of m_i |a_i|^2 = 1: mass-normalised shapes; a tenth of a gram at every node
    const Laid back(false);
    std::vector<LaidMass> all;
    const auto n = static_cast<Eigen::Index>(back.model.nodes());
    for (const Point p : back.model.points())
        all.push_back({p, 0.1});
    Eigen::Vector3d sum = Eigen::Vector3d::Zero();
    const auto weighed = back.weigh(all, back.truth, back.modes, false);
    const Eigen::VectorXd node_kg =
        1e-9 * back.truth.left.density_kg_m3 *
        back.model.node_area_mm2().cwiseProduct(back.model.stretch()).cwiseProduct(back.thickness);
    for (Eigen::Index i = 0; i < n; ++i)
        for (std::size_t k = 0; k < 3; ++k)
            sum[static_cast<Eigen::Index>(k)] +=
                node_kg[i] * -2.0 / 1e-4 * weighed[static_cast<std::size_t>(i)][k].log_ratio;
    for (Eigen::Index k = 0; k < 3; ++k)
        CHECK(sum[k] == Approx(1.0).epsilon(0.03));
}

TEST_CASE("a mass's slopes are those of solving again") {
    const Laid top(true, 1.2);
    const std::vector<LaidMass> masses{{{0, 178}, 1.0}, {{70, 60}, 2.0}, {{0, 5}, 1.0}};
    const auto at = top.weigh(masses, top.truth, top.modes, true);
    const auto log_f = [&](const PlateWood& wood, const Eigen::VectorXd& h, std::size_t i,
                           std::size_t k) {
        const auto modes = top.model.solve(h, wood, 10);
        const auto indices = top.indices();
        const auto one = weighed_modes(top.model, h, ArchShift::Zero(), wood, modes, masses,
                                       indices, false)[i][k];
        return std::log(modes.frequency_hz[one.index]) + one.log_ratio;
    };
    for (const std::size_t i : {0U, 1U, 2U})
        for (const std::size_t k : {0U, 2U}) {
            const WeighedMode& m = at[i][k];
            for (int w = 0; w < 3; ++w) {
                const WoodChange step = 0.01 * WoodChange::Unit(w);
                const double seen = (log_f(changed(top.truth, step), top.thickness, i, k) -
                                     log_f(changed(top.truth, -step), top.thickness, i, k)) /
                                    0.02;
                CHECK(m.by_wood[w] == Approx(seen).epsilon(0.01).margin(0.002));
            }
            PlateWood heavier = top.truth, lighter = top.truth;
            for (Wood* wood : {&heavier.left, &heavier.right})
                wood->density_kg_m3 *= 1.01;
            for (Wood* wood : {&lighter.left, &lighter.right})
                wood->density_kg_m3 /= 1.01;
            const double seen =
                (log_f(heavier, top.thickness, i, k) - log_f(lighter, top.thickness, i, k)) /
                (2.0 * std::log(1.01));
            CHECK(m.by_density == Approx(seen).epsilon(0.01));
            const Eigen::VectorXd step = Eigen::VectorXd::Constant(top.thickness.size(), 0.01);
            CHECK(m.by_thickness_per_mm == Approx((log_f(top.truth, top.thickness + step, i, k) -
                                                   log_f(top.truth, top.thickness - step, i, k)) /
                                                  0.02)
                                               .epsilon(0.02));
        }
}

TEST_CASE("masses tell E_L from E_R, which modes 1, 2 and 5 can't") {
    const Laid back(false);
    auto session = back.session(k_six, k_six);
    const auto with = fit_wood(back.model, back.usual, std::span(&session, 1));
    session.weighings.clear();
    const auto without = fit_wood(back.model, back.usual, std::span(&session, 1));
    CHECK(with.sd(FitUnknown::e_l) < 0.7 * without.sd(FitUnknown::e_l));
    CHECK(with.sd(FitUnknown::e_r) < 0.7 * without.sd(FitUnknown::e_r));
    CHECK(std::abs(with.unknowns[0] - 0.2) < 2.0 * with.sd(FitUnknown::e_l));
    CHECK(std::abs(with.unknowns[1] + 0.25) < 2.0 * with.sd(FitUnknown::e_r));
    REQUIRE(with.weighings.size() == 6);
    for (const auto& check : with.weighings) {
        CHECK(check.is_used);
        CHECK(check.deviations < 1.0);
    }
    CHECK(with.weighed_doubt.empty());
    REQUIRE(with.weighed_sums.size() == 3);
    for (const auto& sum : with.weighed_sums)
        CHECK(sum.ratio == Approx(1.0).margin(0.03));
}

TEST_CASE(
    "a mass that lay elsewhere is named and left out, and where all of them did none is taken") {
    const Laid back(false);
    auto said = k_six;
    said[3].at = {20, 70}; // it lay 55 mm further out
    const auto one =
        fit_wood(back.model, back.usual, std::vector<FitSession>{back.session(k_six, said)});
    REQUIRE(one.weighings.size() == 6);
    CHECK_FALSE(one.weighings[3].is_used);
    CHECK(std::count_if(one.weighings.begin(), one.weighings.end(),
                        [](const auto& w) { return w.is_used; }) == 5);
    CHECK(one.weighed_doubt.find('4') != std::string::npos);
    std::rotate(said.begin(), said.begin() + 2, said.end());
    auto wrong = back.session(k_six, said);
    const auto none = fit_wood(back.model, back.usual, std::span(&wrong, 1));
    wrong.weighings.clear();
    const auto alone = fit_wood(back.model, back.usual, std::span(&wrong, 1));
    for (const auto& check : none.weighings)
        CHECK_FALSE(check.is_used);
    CHECK_FALSE(none.weighed_doubt.empty());
    CHECK(none.unknowns == alone.unknowns);
    CHECK(none.covariance == alone.covariance);
}

TEST_CASE("a place's doubt counts where the mode's motion is steep") {
    const Laid back(false);
    // a back's ring mode is flat in the middle and steep at the bout's edge
    const std::vector<LaidMass> masses{
        {{0, 178}, 1.0, 2.0}, {{90, 75}, 1.0, 2.0}, {{90, 75}, 1.0, 0.2}};
    const auto weighed = back.weigh(masses, back.truth, back.modes, false);
    const auto share = [&](std::size_t i) {
        double square = 0.0;
        for (const double e : weighed[i][2].elsewhere)
            square += e * e / k_round;
        return std::sqrt(square) / -weighed[i][2].log_ratio;
    };
    CHECK(share(1) > 3.0 * share(0));
    CHECK(share(2) < 0.2 * share(1));
}
