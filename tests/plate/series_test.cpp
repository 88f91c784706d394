#include "plate/fit/fit.hpp"
#include "plate/thickness/thickness.hpp"
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

using namespace platewright;
using namespace platewright::plate;

namespace {

constexpr double k_repeat = 0.005;

/// Modes that the fit knows to `sd` each, in parts of their frequency.
SeriesForetold foretold(const std::vector<double>& hz, double sd) {
    const auto n = static_cast<Eigen::Index>(hz.size());
    SeriesForetold f;
    f.log_hz.resize(n);
    for (Eigen::Index k = 0; k < n; ++k) {
        f.modes.push_back(static_cast<int>(k) + 2);
        f.log_hz[k] = std::log(hz[static_cast<std::size_t>(k)]);
    }
    f.slope = Eigen::MatrixXd::Identity(n, n);
    f.factor = sd * Eigen::MatrixXd::Identity(n, n);
    f.highest_hz = 1000.0;
    f.repeat = k_repeat;
    return f;
}

std::vector<std::pair<std::size_t, int>> told(const SeriesForetold& f,
                                              const std::vector<HeardMode>& heard) {
    std::vector<std::pair<std::size_t, int>> pairs;
    for (const SeriesMatch& m : match_series(f, heard))
        pairs.emplace_back(m.heard, m.mode);
    return pairs;
}

using Pairs = std::vector<std::pair<std::size_t, int>>;

/// The same chance by trying all pairings in each drawn plate, whatever their order, by another
/// generator's numbers.
double by_all_pairings(const std::vector<double>& hz, double sd,
                       const std::vector<HeardMode>& heard, std::size_t asked, std::size_t mode) {
    std::mt19937_64 random(7);
    std::normal_distribution<double> normal;
    double all = 0.0, with = 0.0;
    for (int draw = 0; draw < 20000; ++draw) {
        std::vector<double> at;
        const double together = k_series_together * normal(random);
        for (const double f : hz)
            at.push_back(std::log(f) + sd * normal(random) + together);
        std::vector<int> of(heard.size(), -1);
        const auto walk = [&](auto& self, std::size_t i, double weight) -> void {
            if (i == heard.size()) {
                const auto unheard = std::ranges::count_if(at, [&](const double& a) {
                    return std::ranges::find(of, static_cast<int>(&a - at.data())) == of.end();
                });
                weight *= std::pow(0.3, unheard);
                all += weight;
                with += of[asked] == static_cast<int>(mode) ? weight : 0.0;
                return;
            }
            of[i] = -1;
            self(self, i + 1, weight / std::numbers::ln2); // one foreign sound an octave
            for (std::size_t j = 0; j < at.size(); ++j) {
                if (std::ranges::find(of, static_cast<int>(j)) != of.end())
                    continue;
                const double s = std::hypot(k_repeat, k_series_alone);
                const double off = (std::log(heard[i].frequency_hz) - at[j]) / s;
                of[i] = static_cast<int>(j);
                self(self, i + 1,
                     weight * 0.7 * std::exp(-0.5 * off * off) /
                         (s * std::sqrt(2.0 * std::numbers::pi)));
                of[i] = -1;
            }
        };
        walk(walk, 0, 1.0);
    }
    return with / all;
}

} // namespace

TEST_CASE("heard modes are told from the series where only one fits, foreign sounds among them") {
    const auto f = foretold({200, 260, 340}, 0.01);
    CHECK(told(f, {{259, 0.1}, {201, 0.1}, {300, 0.1}}) == Pairs{{1, 2}, {0, 3}});
    CHECK(told(f, {{203, 0.1}}) == Pairs{{0, 2}});
    CHECK(told(f, {{216, 0.1}}).empty()); // four deviations off: a sound of its own
    CHECK(told(f, {{1200, 0.1}}).empty());
    CHECK(told(f, {}).empty());
    CHECK(told(foretold({}, 0.01), {{200, 0.1}}).empty());
}

TEST_CASE("of two modes that may both be the one heard none is told, and of two heard both are") {
    const auto f = foretold({250, 256}, 0.02);
    CHECK(told(f, {{253, 0.1}}).empty());
    CHECK(told(f, {{248, 0.1}, {258, 0.1}}).size() == 2);
}

TEST_CASE("a plate known loosely is told by the pattern of its modes") {
    auto f = foretold({200, 260, 340, 400}, 0.0); // all rise and fall together by 8 %
    f.slope = Eigen::MatrixXd::Constant(4, 1, 1.0);
    f.factor = Eigen::MatrixXd::Constant(1, 1, 0.08);
    // alone it may be another mode; with the others it can't
    CHECK(told(f, {{228, 0.1}}).empty());
    CHECK(told(f, {{174, 0.1}, {226, 0.1}, {296, 0.1}, {348, 0.1}}) ==
          Pairs{{0, 2}, {1, 3}, {2, 4}, {3, 5}});
}

TEST_CASE("the chance of a match is that of all pairings counted one by one") {
    const std::vector<double> hz{200, 210, 260};
    for (const double first : {196.0, 203.0, 207.0}) {
        const std::vector<HeardMode> heard{{first, 0.0}, {213, 0.0}, {262, 0.0}};
        const double chance = by_all_pairings(hz, 0.01, heard, 2, 2);
        double said = 0.0;
        for (const SeriesMatch& m : match_series(foretold(hz, 0.01), heard))
            if (m.heard == 2 && m.mode == 4)
                said = m.probability;
        CHECK(std::abs(said - chance) < 0.02);
    }
}

namespace {

struct HeardBack {
    PlateModel model;
    PlateWood usual, truth;
    Eigen::VectorXd thickness;
    ShellModes modes;
    std::array<ShapeName, 3> names;

    HeardBack()
        : model(PlateForm{*make_outline(usual_size(modes::InstrumentKind::violin)), {}, {}, {}, {}},
                28.0) {
        const Wood w = find_species("red_maple")->wood;
        usual = {w, w};
        truth = scaled(usual, {0.15, -0.2, 0.1, 0.1});
        thickness = model.thickness_at([](Point p) {
            const double x = p.x_mm / 103.5, y = p.y_mm / 177.5 - 1.0;
            return 2.9 + 1.7 * std::exp(-2.2 * y * y - 2.5 * x * x);
        });
        modes = model.solve(thickness, truth, 10);
        names = ShapeJudge(model).names(modes.shapes);
    }
    /// All modes but the named ones heard, so many times too high, and two sounds that are none.
    FitSession session(double times = 1.0, bool has_heard = true) const {
        FitSession s{thickness, model.mass_g(thickness, truth), {}};
        for (int k = 0; k < 9; ++k)
            if (const auto name = std::ranges::find(names, k, &ShapeName::index);
                name != names.end())
                s.modes.push_back({name->number, modes.frequency_hz[k], 0.1});
            else if (has_heard)
                s.heard.push_back({times * modes.frequency_hz[k], 0.1});
        if (has_heard) {
            s.heard.push_back({141.0, 0.1});
            s.heard.push_back({0.5 * (modes.frequency_hz[6] + modes.frequency_hz[7]), 0.1});
        }
        return s;
    }
    PlateFit fit(const FitSession& session) const {
        return fit_wood(model, usual, std::span(&session, 1));
    }
};

const HeardBack& heard_back() {
    static const HeardBack one;
    return one;
}

long series_of(const PlateFit& fit) {
    return std::ranges::count(fit.residuals, FitRow::series, &FitResidual::row);
}

double off(const PlateFit& fit, FitUnknown u, double truth) {
    return std::abs(fit.unknowns[static_cast<int>(u)] - truth) / fit.sd(u);
}

} // namespace

TEST_CASE("modes that nobody named narrow the wood, and none is taken for another") {
    const auto named = heard_back().fit(heard_back().session(1.0, false)),
               heard = heard_back().fit(heard_back().session());
    REQUIRE(named.status == FitStatus::ok);
    REQUIRE(heard.status == FitStatus::ok);
    CHECK(series_of(named) == 0);
    CHECK(series_of(heard) >= 3); // of six: no height was read, and the arch leaves the rest open
    for (const FitResidual& r : heard.residuals)
        if (r.row == FitRow::series)
            CHECK(r.measured == heard_back().modes.frequency_hz[r.number - 1]);
    for (const FitUnknown u : {FitUnknown::e_l, FitUnknown::e_r})
        CHECK(heard.sd(u) < 0.9 * named.sd(u));
    CHECK(off(heard, FitUnknown::e_l, 0.15) < 2.0);
    CHECK(off(heard, FitUnknown::e_r, -0.2) < 2.0);
    CHECK(off(heard, FitUnknown::g_lr, 0.1) < 2.0);
}

TEST_CASE("a model that is as far off in its series as solids say still holds the wood") {
    const auto high = heard_back().fit(heard_back().session(1.0125)); // as a top's
    CHECK(series_of(high) >= 3);
    CHECK(off(high, FitUnknown::e_l, 0.15) < 2.0);
    CHECK(off(high, FitUnknown::e_r, -0.2) < 2.0);
    CHECK(off(high, FitUnknown::g_lr, 0.1) < 2.0);
}

TEST_CASE("heard modes that are another plate's leave the fit to the named ones") {
    const auto named = heard_back().fit(heard_back().session(1.0, false));
    const auto strange = heard_back().fit(heard_back().session(1.13));
    REQUIRE(strange.status == FitStatus::ok);
    CHECK(strange.is_plausible);
    for (const FitUnknown u : {FitUnknown::e_l, FitUnknown::e_r, FitUnknown::g_lr})
        CHECK(off(strange, u,
                  u == FitUnknown::e_l   ? 0.15
                  : u == FitUnknown::e_r ? -0.2
                                         : 0.1) < 2.0);
}

TEST_CASE("what a match is worth is the odds of the pairings, worked out by hand") {
    // 0.7 of a normal density 1.414 % wide, 19.75, against 0.3 times one foreign sound an octave,
    // 1.443 a unit of ln f: 45.6 to one.
    CHECK(worth_of_match() == Approx(2.0 * std::log(45.62)).margin(0.002));
}
