#include "plate/fit/fit.hpp"
#include "plate/plan/plan.hpp"
#include "support/catch.hpp"

#include <array>
#include <cmath>

using namespace platewright;
using namespace platewright::plate;

namespace {

struct Bench {
    PlateModel model;
    PlateWood usual; // what the handbook says
    PlateWood truth; // this plate's own
    Eigen::VectorXd thickness;

    explicit Bench(bool is_top)
        : model([&] {
              PlateForm form{
                  *make_outline(usual_size(modes::InstrumentKind::violin)), {}, {}, {}, {}};
              if (is_top) {
                  form.f_holes = f_hole_loops(usual_f_hole(form.outline.size));
                  form.bar = usual_bar(form.outline.size);
              }
              return PlateModel(form, 28.0);
          }()) {
        const Wood w = find_species(is_top ? "norway_spruce" : "red_maple")->wood;
        usual = {w, w};
        truth = scaled(usual, {0.15, -0.2, 0.1, 0.1});
        truth.left.density_kg_m3 = truth.right.density_kg_m3 = 1.05 * w.density_kg_m3;
        thickness = model.thickness_at([&](Point p) {
            const double x = p.x_mm / 103.5, y = p.y_mm / 177.5 - 1.0;
            return 2.9 + (is_top ? 0.4 : 1.7) * std::exp(-2.2 * y * y - 2.5 * x * x);
        });
    }

    FitSession session(double thinner_mm, const PlateWood& wood, std::vector<int> numbers) const {
        FitSession s;
        s.thickness_mm = (thickness.array() - thinner_mm).matrix();
        const auto solved = model.solve(s.thickness_mm, wood, 10);
        const auto names = ShapeJudge(model).names(solved.shapes);
        s.mass_g = model.mass_g(s.thickness_mm, wood);
        for (const int n : numbers)
            s.modes.push_back({n, solved.frequency_hz[mode_index(names, n)], 0.1});
        return s;
    }
};

const Bench& back() {
    static const Bench bench(false);
    return bench;
}

} // namespace

TEST_CASE("the fit brings the model onto exact taps, and its intervals hold the true wood") {
    for (const bool is_top : {false, true}) {
        const Bench bench(is_top);
        const std::vector<FitSession> sessions{bench.session(0.0, bench.truth, {1, 2, 3, 4, 5, 6}),
                                               bench.session(0.2, bench.truth, {1, 2, 5})};
        const auto fit = fit_wood(bench.model, bench.usual, sessions);
        REQUIRE(fit.status == FitStatus::ok);
        CHECK(fit.is_plausible);
        for (const auto& r : fit.residuals)
            CHECK(std::abs(r.deviations) < 0.6);
        FitVector truth = FitVector::Zero();
        truth.head<4>() << 0.15, -0.2, 0.1, 0.1;
        truth[static_cast<int>(FitUnknown::density)] = std::log(1.05);
        for (int k = 0; k < k_fit_unknowns; ++k)
            CHECK(std::abs(fit.unknowns[k] - truth[k]) < 2.0 * fit.sd(static_cast<FitUnknown>(k)));
        // density comes from the balance
        CHECK(fit.sd(FitUnknown::density) < 0.02);
    }
}

TEST_CASE(
    "a top with leaning rings is not called impossible, and with the lean told its wood comes") {
    constexpr double k_lean_rad = 0.26, k_read_rad = 0.035; // 15 degrees, read off to 2
    const Bench bench(true);
    PlateWood truth = bench.truth;
    truth.left.lie.ring_rad = truth.right.lie.ring_rad = k_lean_rad;
    const auto session = bench.session(0.0, truth, {1, 2, 5});
    const auto untold = fit_wood(bench.model, bench.usual, std::span(&session, 1));
    INFO(untold.doubt);
    CHECK(untold.is_plausible);
    CHECK(untold.unknowns[static_cast<int>(FitUnknown::ring)] > 0.05); // it is found to lean
    PlateWood start = bench.usual;
    start.left.lie.ring_rad = start.right.lie.ring_rad = k_lean_rad;
    FitPriors priors;
    priors.ring_rad = k_read_rad;
    const auto told = fit_wood(bench.model, start, std::span(&session, 1), priors);
    REQUIRE(told.status == FitStatus::ok);
    CHECK(told.is_plausible);
    CHECK(told.sd(FitUnknown::ring) < 0.5 * untold.sd(FitUnknown::ring));
    for (const FitUnknown u : {FitUnknown::e_l, FitUnknown::e_r, FitUnknown::g_lr}) {
        const auto k = static_cast<int>(u);
        const double known = std::log(k == 0   ? truth.left.e_l_gpa / start.left.e_l_gpa
                                      : k == 1 ? truth.left.e_r_gpa / start.left.e_r_gpa
                                               : truth.left.g_lr_gpa / start.left.g_lr_gpa);
        CHECK(std::abs(told.unknowns[k] - known) < 2.0 * told.sd(u));
    }
    FitPriors upright; // no lean thought of
    upright.ring_rad = upright.run_out_rad = 1e-4;
    const auto across = static_cast<int>(FitUnknown::e_r);
    const double known = std::log(truth.left.e_r_gpa / bench.usual.left.e_r_gpa);
    const auto once = fit_wood(bench.model, bench.usual, std::span(&session, 1), upright);
    CHECK(std::abs(untold.unknowns[across] - known) < 2.0 * untold.sd(FitUnknown::e_r));
    // which claimed too much; the arch, of which nothing is read, leaves E_R open in both
    CHECK(untold.sd(FitUnknown::e_r) > 1.1 * once.sd(FitUnknown::e_r));
}

TEST_CASE("E_L and E_R can't be told apart from modes 1, 2 and 5 alone, and more modes tell") {
    const auto few = fit_wood(back().model, back().usual,
                              std::vector{back().session(0.0, back().truth, {1, 2, 5})});
    const auto many =
        fit_wood(back().model, back().usual,
                 std::vector{back().session(0.0, back().truth, {1, 2, 3, 4, 5, 6, 7})});
    REQUIRE(few.status == FitStatus::ok);
    REQUIRE(many.status == FitStatus::ok);
    CHECK(many.sd(FitUnknown::e_l) < few.sd(FitUnknown::e_l));
    CHECK(few.sd(FitUnknown::e_l) < FitPriors{}.log_wood[0]); // and yet something is learnt
}

TEST_CASE("a mode named wrongly is answered with a doubt that names it, not with strange wood") {
    auto session = back().session(0.0, back().truth, {1, 2, 5});
    std::swap(session.modes[0].frequency_hz, session.modes[1].frequency_hz);
    const auto fit = fit_wood(back().model, back().usual, std::span(&session, 1));
    CHECK_FALSE(fit.is_plausible);
    CHECK(fit.doubt.find("named wrongly") != std::string::npos);
    auto light = back().session(0.0, back().truth, {1, 2, 5});
    light.mass_g = 0.4 * *light.mass_g; // a mass that can't be
    const auto odd = fit_wood(back().model, back().usual, std::span(&light, 1));
    CHECK_FALSE(odd.is_plausible);
    CHECK(odd.doubt.find("density") != std::string::npos);
}

TEST_CASE("of taps that contradict each other the fit keeps the best wood it has met") {
    auto sessions = std::vector<FitSession>{back().session(0.0, back().truth, {1, 2, 5}),
                                            back().session(0.2, back().truth, {1, 2, 5})};
    sessions[1].modes[2].frequency_hz *= 1.12; // thinner, and its ring higher: another mode
    const auto fit = fit_wood(back().model, back().usual, sessions);
    CHECK_FALSE((fit.status == FitStatus::ok && fit.is_plausible));
    CHECK_FALSE(fit.doubt.empty());
    // Chi-square as the fit has it: the mean of both taps shares the model's error, their
    // difference does not.
    const auto off = [&](const PlateFit& at) {
        const FitPriors priors;
        double sum = 0.0;
        std::array<std::array<double, 2>, 3> apart{}; // mode by session
        for (std::size_t s = 0; s < 2; ++s) {
            const auto state = fitted_state(back().model, at, sessions[s].thickness_mm);
            sum += std::pow((state.mass_g / *sessions[s].mass_g - 1.0) / priors.mass, 2);
            for (std::size_t k = 0; k < 3; ++k) {
                const TappedMode& tapped = sessions[s].modes[k];
                const double hz = state.modes.frequency_hz[mode_index(state.names, tapped.number)];
                apart[k][s] = hz / tapped.frequency_hz - 1.0;
            }
        }
        const double own = priors.repeat * priors.repeat, shared = priors.model * priors.model;
        for (const auto& d : apart)
            sum += std::pow(d[0] - d[1], 2) / (2.0 * own) +
                   std::pow(0.5 * (d[0] + d[1]), 2) / (0.5 * own + shared);
        return sum;
    };
    PlateFit start;
    start.wood = back().usual;
    CHECK(off(fit) < off(start));
}

TEST_CASE("nothing tapped is nothing fitted") {
    const FitSession empty{back().thickness, std::nullopt, {}};
    CHECK(fit_wood(back().model, back().usual, std::span(&empty, 1)).status ==
          FitStatus::nothing_to_fit);
}

TEST_CASE("a forecast from a fit is near what the true plate does") {
    const std::vector<FitSession> sessions{back().session(0.0, back().truth, {1, 2, 5})};
    const auto fit = fit_wood(back().model, back().usual, sessions);
    const auto now = fitted_state(back().model, fit, sessions[0].thickness_mm);
    const auto later = back().session(0.3, back().truth, {1, 2, 5});
    const auto then = fitted_state(back().model, fit, later.thickness_mm, now.modes.shapes);
    const std::vector<int> numbers{1, 2, 5};
    const auto forecast = forecast_shifts(back().model, fit, now, then, numbers);
    REQUIRE(forecast.size() == 3);
    for (std::size_t k = 0; k < 3; ++k) {
        const double seen = later.modes[k].frequency_hz - sessions[0].modes[k].frequency_hz;
        CHECK(forecast[k].shift_hz == Approx(seen).epsilon(0.1));
        CHECK(forecast[k].shift_sd_hz < 0.25 * std::abs(seen));
    }
    // hindsight
    const auto said = hindsight(forecast, sessions[0].modes, later.modes);
    REQUIRE(said.size() == 3);
    CHECK(std::abs(said[2].deviations) < 2.0);
    CHECK(said[2].text.find("as expected") != std::string::npos);
    auto wrong = later.modes;
    wrong[2].frequency_hz += 25.0;
    CHECK(hindsight(forecast, sessions[0].modes, wrong)[2].text.find("further off") !=
          std::string::npos);
}
