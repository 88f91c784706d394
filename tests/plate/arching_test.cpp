#include "plate/plan/plan.hpp"
#include "plate/shape/arching.hpp"
#include "plate/thickness/thickness.hpp"
#include "support/catch.hpp"
#include "violin.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace platewright;
using namespace platewright::plate;
using test::violin;

namespace {

// An arch by the published recipe, none of the model's family: the long arch a circle, the cross
// arches curtate cycloids with their crests outwards (Q. Playfair, The Strad, November 1999, from
// memory). 15.5 mm high, 4 mm at the edge.
double recipe_mm(Point p) {
    constexpr double half_mm = 177.5, rise_mm = 11.5, lambda = 0.25;
    constexpr double radius = (half_mm * half_mm + rise_mm * rise_mm) / (2.0 * rise_mm);
    double width = 0.0; // a moving mean of the half width
    for (int j = -20; j <= 20; ++j)
        width += violin().extent(std::clamp(p.y_mm + j, 1.0, 354.0)).right_mm / 41.0;
    const double y = p.y_mm - half_mm, s = std::abs(p.x_mm) / width;
    if (s >= 1.0 || std::abs(y) >= half_mm)
        return 4.0;
    const double along = std::sqrt(radius * radius - y * y) - radius + rise_mm;
    double psi = std::numbers::pi * s;
    for (int k = 0; k < 20; ++k)
        psi -=
            (psi + lambda * std::sin(psi) - std::numbers::pi * s) / (1.0 + lambda * std::cos(psi));
    return 4.0 + along * 0.5 * (1.0 + std::cos(psi));
}

std::vector<HeightReading> read(const std::vector<Point>& places, double off_mm) {
    std::vector<HeightReading> heights;
    for (std::size_t k = 0; k < places.size(); ++k) // off to either side in turn
        heights.push_back({places[k], recipe_mm(places[k]) + (k % 2 == 0 ? off_mm : -off_mm)});
    return heights;
}

// Where the program asks for heights.
std::vector<Point> centre_line() { return {{0, 28}, {0, 89}, {0, 178}, {0, 266}, {0, 327}}; }

double graduation(Point p) {
    const double x = p.x_mm / 103.5, y = p.y_mm / 177.5 - 1.0;
    return 2.9 + 1.4 * std::exp(-2.2 * y * y - 2.5 * x * x);
}

} // namespace

TEST_CASE("heights read on an arch of the family find its height and its fullness") {
    const Arching truth(violin(), {16.0, 4.0, 4.2, 1.7});
    std::vector<HeightReading> heights;
    for (const Point p : grid_inside(violin(), 45.0))
        heights.push_back({p, truth.height_mm(p)});
    const Arching found(violin(), {15.0, 4.0}, heights);
    const auto& c = found.covariance();
    CHECK(std::abs(found.profile().arch_mm - 16.0) < 2.0 * std::sqrt(c(0, 0)));
    CHECK(std::abs(std::log(found.profile().long_fullness / 4.2)) < 2.0 * std::sqrt(c(1, 1)));
    CHECK(std::abs(std::log(found.profile().cross_fullness / 1.7)) < 2.0 * std::sqrt(c(2, 2)));
    CHECK(std::abs(std::log(found.profile().long_ends / 2.0)) < 2.0 * std::sqrt(c(3, 3)));
    CHECK(std::abs(std::log(found.profile().cross_ends / 2.0)) < 2.0 * std::sqrt(c(4, 4)));
    const ArchPriors before;
    CHECK(std::sqrt(c(1, 1)) < 0.5 * before.log_fullness);
    CHECK(std::sqrt(c(2, 2)) < 0.5 * before.log_fullness);
    for (const auto& r : heights)
        CHECK(found.height_mm(r.at) == Approx(r.height_mm).margin(before.reading_mm));
}

TEST_CASE("heights at places follow the readings, and their derivatives the differences") {
    const Arching arching(violin(), {15.0, 4.0}, read(centre_line(), 0.1));
    const std::vector<Point> places{{0, 178}, {40, 100}, {-60, 60}, {70, 90}, {0, 320}};
    const ArchPlaces at = arching.at(places);
    ArchShift shift = ArchShift::Zero();
    shift.head<5>() << 0.3, 0.1, -0.1, 0.7, -0.4;
    for (std::size_t k = 0; k < places.size(); ++k)
        CHECK(at.heights_mm(ArchShift::Zero())[static_cast<Eigen::Index>(k)] ==
              Approx(arching.height_mm(places[k])).margin(1e-9));
    const Eigen::MatrixXd slope = at.slopes(shift);
    for (int u = 0; u < k_arch_unknowns; ++u) {
        const ArchShift step = 1e-5 * ArchShift::Unit(u);
        const Eigen::VectorXd seen =
            (at.heights_mm(shift + step) - at.heights_mm(shift - step)) / 2e-5;
        CHECK((slope.col(u) - seen).cwiseAbs().maxCoeff() < 1e-5);
    }
}

TEST_CASE("an arch by the published recipe is neither refused nor taken for granted") {
    // Heights of the recipe, of a reading's own error, lie as far from the usual profile as the
    // priors expect: chi-square a reading near 1. A tenth or ten times the departure, or the
    // fullness' deviation, or the reading's, falls out.
    const Arching prior(violin(), {15.0, 4.0});
    const auto places = grid_inside(violin(), 35.0);
    const auto heights = read(places, ArchPriors{}.reading_mm);
    const auto chi_square = [&](const ArchPriors& priors) {
        const Arching arching(violin(), {15.0, 4.0}, {}, priors);
        const Eigen::MatrixXd slope = arching.at(places).slopes(ArchShift::Zero());
        Eigen::MatrixXd c = slope * arching.covariance() * slope.transpose();
        c.diagonal().array() += priors.reading_mm * priors.reading_mm;
        Eigen::VectorXd off(slope.rows());
        for (Eigen::Index k = 0; k < off.size(); ++k) {
            const auto& r = heights[static_cast<std::size_t>(k)];
            off[k] = r.height_mm - arching.height_mm(r.at);
        }
        return off.dot(c.ldlt().solve(off)) / static_cast<double>(off.size());
    };
    const double usual = chi_square({});
    INFO(usual);
    CHECK(usual > 0.4);
    CHECK(usual < 2.5);
    ArchPriors wrong;
    wrong.departure *= 0.1;
    wrong.log_ends *= 0.1; // or the ends follow the recipe by themselves
    CHECK(chi_square(wrong) > 2.5);
    wrong = {};
    wrong.reading_mm *= 0.1;
    CHECK(chi_square(wrong) > 2.5);
    wrong = {};
    wrong.reading_mm *= 10.0;
    CHECK(chi_square(wrong) < 0.4);
}

TEST_CASE("an arch made of typed heights moves the modes by no more than it is said to") {
    // The judge is the same shell with the recipe's heights at every node; only the arch differs.
    // Before the ends were an unknown, and twelve departures stood for all, it was three
    // deviations.
    const Wood w = find_species("red_maple")->wood;
    const PlateWood wood{w, w};
    const PlateModel bare({violin(), {15.5, 4.0}, {}, {}, {}});
    const Eigen::VectorXd mm = bare.thickness_at(graduation);
    ShellSurface surface = bare.surface(mm);
    surface.outside_mm = bare.thickness_at(recipe_mm);
    const auto truth = bare.solve(surface, wood, 10);
    const auto names = ShapeJudge(bare).names(truth.shapes);
    std::vector<Point> stations; // five cross templates, half of each, none near an end
    for (const Point p : {Point{0, 71}, Point{0, 124}, Point{0, 178}, Point{0, 231}, Point{0, 284}})
        for (const double part : {0.0, 0.35, 0.7})
            stations.push_back({part * violin().extent(p.y_mm).right_mm, p.y_mm});
    for (const auto& places : {centre_line(), stations, grid_inside(violin(), 35.0)}) {
        const PlateModel model({violin(), {15.5, 4.0}, read(places, 0.1), {}, {}});
        PlateGuess known;
        known.wood = wood;
        const auto state = fitted_state(model, known, mm);
        double square = 0.0;
        for (const int n : {1, 2, 5}) {
            const int is = mode_index(state.names, n);
            const double off =
                state.modes.frequency_hz[is] - truth.frequency_hz[mode_index(names, n)];
            const ArchShift slope = state.by_unknown.col(is).tail<k_arch_unknowns>();
            const double sd = std::sqrt(slope.dot(model.arching().covariance() * slope));
            INFO(places.size() << " heights, mode " << n << " off by " << off << " Hz, said "
                               << sd);
            CHECK(std::abs(off) < 1.96 * sd);
            square += off * off / (3.0 * sd * sd);
        }
        CHECK(std::sqrt(square) < 1.6);
    }
}

TEST_CASE("a plan's interval holds on an arch by the published recipe, with and without heights") {
    // The judge is a shell whose arch is the recipe's, read every 11 mm; CalculiX's word on such
    // plates is in docs/plate-model.md (speed_plate_archings).
    const PlateModel truth({violin(), {15.5, 4.0}, read(grid_inside(violin(), 11.0), 0.0), {}, {}});
    const Wood w = find_species("red_maple")->wood;
    const PlateWood usual{w, w}, wood = scaled(usual, {0.1, -0.15, 0.1, 0.0});
    const auto solve = [&](const PlateModel& model, const std::function<double(Point)>& mm) {
        return model.solve(model.thickness_at(mm), wood, 10);
    };
    const auto before = solve(truth, graduation);
    const auto names = ShapeJudge(truth).names(before.shapes);
    double width_hz = 0.0, width_with_hz = 0.0;
    for (const bool has_heights : {false, true}) {
        const PlateModel model(
            {violin(),
             {15.0, 4.0}, // half a millimetre low
             has_heights ? read(centre_line(), 0.1) : std::vector<HeightReading>{},
             {},
             {}});
        FitSession session{model.thickness_at(graduation),
                           truth.mass_g(truth.thickness_at(graduation), wood),
                           {},
                           {}};
        for (const int n : {1, 2, 5})
            session.modes.push_back({n, before.frequency_hz[mode_index(names, n)], 0.1});
        const auto fit = fit_wood(model, usual, std::span(&session, 1));
        REQUIRE(fit.status == FitStatus::ok);
        CHECK(fit.is_plausible);
        const std::vector<PlanTarget> targets{
            {2, session.modes[1].frequency_hz, session.modes[1].frequency_hz - 5.0, 1.0},
            {5, session.modes[2].frequency_hz, session.modes[2].frequency_hz - 12.0, 1.0}};
        const auto plan = make_plan(model, fit, session.thickness_mm, targets);
        const RemovalBasis basis(model, StrokeField{});
        const auto after = solve(
            truth, [&](Point p) { return graduation(p) - basis.depth_mm(p, plan.depths_mm); });
        const auto followed = follow(truth, before.shapes, after.shapes);
        for (const auto& o : plan.outcomes) {
            const int was = mode_index(names, o.number);
            const int is = followed[static_cast<std::size_t>(was)];
            REQUIRE(is >= 0);
            const double seen = after.frequency_hz[is] - before.frequency_hz[was];
            INFO(o.number << ": " << o.after_hz - o.now_hz << " +- " << 1.96 * o.after_sd_hz
                          << " Hz, came " << seen);
            CHECK(std::abs(o.after_hz - o.now_hz - seen) < 1.96 * o.after_sd_hz);
        }
        // what the arch leaves open of mode 1
        const auto now = fitted_state(model, fit, session.thickness_mm);
        const ArchShift slope =
            now.by_unknown.col(mode_index(now.names, 1)).tail<k_arch_unknowns>();
        (has_heights ? width_with_hz : width_hz) =
            std::sqrt(slope.dot(model.arching().covariance() * slope));
        CHECK(std::ranges::any_of(plan.next, [](const NextMeasurement& m) {
                  return m.kind == MeasurementKind::heights && m.remains <= 0.8;
              }) != has_heights); // asked for where there are none
    }
    CHECK(width_with_hz < 0.6 * width_hz);
}
