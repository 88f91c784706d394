#include "plate/fit/fit_inside.hpp"
#include "support/catch.hpp"
#include "violin.hpp"

#include <cmath>
#include <random>

using namespace platewright;
using namespace platewright::plate;

namespace {

/// A fit whose unknowns lie so many deviations off what was held of them before the taps.
struct Judged {
    const PlateModel& model() const {
        static const PlateModel model({test::violin(), {}, {}, {}, {}}, 15.0);
        return model;
    }
    FitMatrix prior = FitMatrix::Identity();
    PlateFit fit;

    Judged() {
        const FitPriors usual;
        for (int k = 0; k < 4; ++k)
            prior(k, k) = usual.log_wood[k] * usual.log_wood[k];
        at(FitUnknown::ring) = 0.01;
        at(FitUnknown::density) = 0.01;
        at(FitUnknown::thickness) = 0.0009;
        fit.covariance = prior; // nothing was told
    }
    double& at(FitUnknown u) { return prior(static_cast<int>(u), static_cast<int>(u)); }
    void pull(FitUnknown u, double deviations) {
        fit.unknowns[static_cast<int>(u)] = deviations * std::sqrt(at(u));
    }
    const PlateFit& judged() {
        judge(fit, model(), prior);
        return fit;
    }
};

/// A prior of one for each unknown, and what is left of it where taps told so much of so many of
/// the arch's.
struct Told {
    FitMatrix prior = FitMatrix::Identity(), posterior = FitMatrix::Identity();
    int unknowns;
    double left;

    Told(int n, double variance_left) : unknowns(n), left(variance_left) {
        for (int k = 0; k < n; ++k)
            posterior(k_first_arch_unknown + k, k_first_arch_unknown + k) = left;
    }
    /// The share of fits that are called implausible, of plates that are as the prior has them but
    /// for this factor.
    double called_far_off(double factor) const {
        constexpr int k_plates = 4000;
        std::mt19937 random(11);
        std::normal_distribution<double> normal;
        int far = 0;
        for (int plate = 0; plate < k_plates; ++plate) {
            FitVector fitted = FitVector::Zero(); // varies by what was told: the prior's less that
            for (int k = 0; k < unknowns; ++k)
                fitted[k_first_arch_unknown + k] = factor * std::sqrt(1.0 - left) * normal(random);
            far += is_far_off(fitted, prior, posterior);
        }
        return static_cast<double>(far) / k_plates;
    }
};

} // namespace

TEST_CASE("wood far from any is doubted, by the name of what is farthest and how far it is") {
    struct Case {
        FitUnknown pulled;
        const char* says; // by hand of three deviations
    };
    for (const Case& c : {Case{FitUnknown::e_l, "stiffness along the grain, 82 %"},   // exp(0.6)
                          Case{FitUnknown::e_r, "stiffness across the grain, 112 %"}, // exp(0.75)
                          Case{FitUnknown::ring, "the rings' lean, 17°"},             // 0.3 rad
                          Case{FitUnknown::density, "density, 35 %"},
                          Case{FitUnknown::thickness, "thickness, 0.09 mm"}}) {
        for (const FitUnknown less : {FitUnknown::e_l, FitUnknown::density}) {
            Judged j;
            j.pull(less, 2.7);
            j.pull(c.pulled, 3.0);
            CHECK_FALSE(j.judged().is_plausible);
            CHECK_THAT(j.fit.doubt, ContainsSubstring(c.says));
        }
        for (const double deviations : {-2.4, 2.4}) {
            Judged near;
            near.pull(c.pulled, deviations);
            CHECK(near.judged().is_plausible);
            CHECK(near.fit.doubt.empty());
        }
    }
    Judged softer;
    softer.pull(FitUnknown::g_lr, -3.0);
    CHECK_THAT(softer.judged().doubt, ContainsSubstring("shear stiffness, -45 %")); // exp(-0.6)
}

TEST_CASE("the more the taps tell of an arch, the farther it may be pulled from what is usual") {
    // A normal deviate exceeds 2.5 in 0.62 % (the normal distribution's table).
    for (const auto& [unknowns, left] : {std::pair{1, 0.2}, {3, 0.5}, {8, 0.1}, {30, 0.6}}) {
        const Told told(unknowns, left);
        INFO(unknowns << " unknowns, " << left << " of their variance left");
        const double far = told.called_far_off(1.0);
        CHECK(far > 0.003);
        CHECK(far < 0.012);
        CHECK(told.called_far_off(3.0) > (unknowns == 1 ? 0.3 : 0.65));
    }
    CHECK(Told(0, 1.0).called_far_off(1.0) == 0.0); // nothing was told of it
}

TEST_CASE("an arch that is far off is doubted in millimetres") {
    Judged j;
    // One of them is told, and pulled by 2.8 of its deviations: the cube root of its square
    // lies 2.59 deviations above its mean (2.8^(2/3) - 7/9) / sqrt(2/9).
    j.fit.covariance(k_first_arch_unknown, k_first_arch_unknown) = 0.0;
    j.fit.unknowns[k_first_arch_unknown] = 2.8;
    j.fit.arch = j.fit.unknowns.tail<k_arch_unknowns>();
    CHECK_FALSE(j.judged().is_plausible);
    const Eigen::VectorXd flat = j.model().thickness_at([](Point) { return 1.0; });
    const Eigen::VectorXd moved =
        j.model().surface(flat, j.fit.arch).outside_mm - j.model().surface(flat).outside_mm;
    CHECK_THAT(j.fit.doubt,
               ContainsSubstring("the arch's shape, " +
                                 wording::figure(moved.cwiseAbs().maxCoeff() == moved.maxCoeff()
                                                     ? moved.maxCoeff()
                                                     : moved.minCoeff(),
                                                 1) +
                                 " mm"));
    j.fit.unknowns *= 2.6 / 2.8; // 2.36
    CHECK(j.judged().is_plausible);
}

TEST_CASE("a mode that no such wood has is doubted by its name, the worst of all, tapped or not") {
    Judged j;
    const auto residual = [](FitRow row, int number, double deviations) {
        return FitResidual{.row = row,
                           .number = number,
                           .measured = 350.0 + number,
                           .modelled = 340.0,
                           .deviations = deviations};
    };
    j.fit.residuals = {residual(FitRow::mode, 1, 3.9), residual(FitRow::mode, 2, -3.8),
                       residual(FitRow::series, 7, 9.0)};
    CHECK(j.judged().is_plausible); // what nobody named is left out elsewhere
    j.fit.residuals.push_back(residual(FitRow::mode, 5, -4.1));
    CHECK_FALSE(j.judged().is_plausible);
    CHECK_THAT(j.fit.doubt, ContainsSubstring("tapped 355.0 Hz, model 340.0 Hz"));
    CHECK_THAT(j.fit.doubt, !ContainsSubstring("off by this much"));
}
