#include "plate/fit/bounded_least.hpp"
#include "plate/plan/graduation.hpp"
#include "plate/plan/plan.hpp"
#include "support/catch.hpp"

#include <cmath>

using namespace platewright;
using namespace platewright::plate;

namespace {

// A back whose wood is known: a fit without doubt.
struct Known {
    PlateModel model;
    PlateFit fit;
    Eigen::VectorXd thickness;
    std::array<double, 6> tapped{}; // by number

    explicit Known(bool is_top)
        : model([&] {
              PlateForm form{
                  *make_outline(usual_size(modes::InstrumentKind::violin)), {}, {}, {}, {}};
              if (is_top) {
                  form.f_holes = f_hole_loops(usual_f_hole(form.outline.size));
                  form.bar = usual_bar(form.outline.size);
              }
              return PlateModel(form);
          }()) {
        const Wood w = find_species(is_top ? "norway_spruce" : "red_maple")->wood;
        fit.status = FitStatus::ok;
        fit.wood = {w, w};
        fit.is_plausible = true;
        fit.covariance.diagonal().head<7>() << 0.003, 0.003, 0.0005, 0.04, 0.0001, 0.0005, 0.01;
        thickness = model.thickness_at([&](Point p) {
            const double x = p.x_mm / 103.5, y = p.y_mm / 177.5 - 1.0;
            return 2.9 + (is_top ? 0.4 : 1.7) * std::exp(-2.2 * y * y - 2.5 * x * x);
        });
        const auto modes = model.solve(thickness, fit.wood, 10);
        const auto names = ShapeJudge(model).names(modes.shapes);
        for (const int n : {1, 2, 5})
            tapped[static_cast<std::size_t>(n)] = modes.frequency_hz[mode_index(names, n)];
    }

    PlanTarget target(int number, double shift_hz, double firmness = 1.0) const {
        const double now = tapped[static_cast<std::size_t>(number)];
        return {number, now, now + shift_hz, firmness};
    }
    double solved(const Eigen::VectorXd& removal, int number) const {
        const auto modes = model.solve(thickness - removal, fit.wood, 10);
        return modes.frequency_hz[mode_index(ShapeJudge(model).names(modes.shapes), number)];
    }
};

const Known& known_back() {
    static const Known known(false);
    return known;
}

} // namespace

TEST_CASE("bounded least squares meets the conditions of optimality") {
    Eigen::MatrixXd h(3, 3);
    h << 4, 1, 0, 1, 3, -1, 0, -1, 2;
    const Eigen::Vector3d b(1, -4, 9), low(0, 0, 0), high(10, 10, 2);
    const Eigen::VectorXd x = minimise_between(h, b, low, high, Eigen::VectorXd::Zero(3));
    const Eigen::VectorXd slope = h * x - b;
    for (int i = 0; i < 3; ++i) {
        CHECK((x[i] >= low[i] && x[i] <= high[i]));
        if (x[i] <= low[i] + 1e-9)
            CHECK(slope[i] >= -1e-6);
        else if (x[i] >= high[i] - 1e-9)
            CHECK(slope[i] <= 1e-6);
        else
            CHECK(std::abs(slope[i]) < 1e-5);
    }
}

TEST_CASE("a plan is met by a fresh solve within 0.2 Hz, keeps its limits and takes little wood") {
    for (const bool is_top : {false, true}) {
        const Known known(is_top);
        // the holes leave a top less wood to take where it tells
        const std::vector<PlanTarget> targets{known.target(2, is_top ? -4.0 : -5.0),
                                              known.target(5, is_top ? -8.0 : -12.0),
                                              known.target(1, 0.0, 0.02)};
        const PlanLimits limits{.pass_share = 0.4};
        const auto plan = make_plan(known.model, known.fit, known.thickness, targets, limits);
        INFO(plan.summary);
        REQUIRE(plan.status == PlanStatus::ok);
        for (const auto& o : plan.outcomes)
            CHECK(known.solved(plan.removal_mm, o.number) == Approx(o.after_hz).margin(0.2));
        for (const std::size_t firm : {0U, 1U}) {
            const auto& o = plan.outcomes[firm];
            CHECK(known.solved(plan.removal_mm, o.number) == Approx(o.want_hz).margin(0.2));
        }
        CHECK(plan.removal_mm.minCoeff() >= 0.0); // no wood added
        const Eigen::VectorXd left = known.thickness - plan.removal_mm;
        CHECK(hollows_mm(known.model, known.thickness, left).maxCoeff() <=
              limits.deepest_mm + 1e-6);
        CHECK((known.thickness - plan.removal_mm).minCoeff() >= limits.least_mm - 1e-6);
        CHECK(plan.wood_g > 0.3);
        CHECK(plan.wood_g < 8.0);
        CHECK(plan.pass_mm.isApprox(0.4 * plan.removal_mm));
        // a pass goes part of the way
        CHECK(plan.outcomes[1].pass_hz < plan.outcomes[1].now_hz);
        CHECK(plan.outcomes[1].pass_hz > plan.outcomes[1].after_hz);
        CHECK(plan.outcomes[1].after_sd_hz > 0.0);
        CHECK(known.solved(plan.pass_mm, 5) == Approx(plan.outcomes[1].pass_hz).margin(0.2));
    }
}

TEST_CASE("the edge, the f-holes and the bar are left alone, and left and right are alike") {
    const Known top(true);
    const auto plan =
        make_plan(top.model, top.fit, top.thickness, std::vector{top.target(5, -8.0)});
    const RemovalBasis basis(top.model, StrokeField{});
    const auto bar = *top.model.form().bar;
    for (std::size_t i = 0; i < top.model.nodes(); ++i) {
        const Point p = top.model.points()[i];
        const double depth = plan.removal_mm[static_cast<Eigen::Index>(i)];
        CHECK(depth == Approx(basis.depth_mm(p, plan.depths_mm)).margin(1e-9));
        if (distance_mm(top.model.form().outline.rim, p) < 12.0)
            CHECK(depth == 0.0);
        const std::array<Point, 2> line{bar.lower, bar.upper};
        if (distance_mm(line, p) < 6.0)
            CHECK(depth == 0.0);
    }
    const auto sides = make_plan(known_back().model, known_back().fit, known_back().thickness,
                                 std::vector{known_back().target(5, -8.0)});
    const RemovalBasis even(known_back().model, StrokeField{});
    for (const auto& p : known_back().model.points())
        CHECK(even.depth_mm(p, sides.depths_mm) ==
              Approx(even.depth_mm({-p.x_mm, p.y_mm}, sides.depths_mm)).margin(1e-9));
}

TEST_CASE("a plan of sure wood and a small shift is still off by the model's own error") {
    PlateFit sure = known_back().fit;
    sure.covariance.setZero();
    const auto plan = make_plan(known_back().model, sure, known_back().thickness,
                                std::vector{known_back().target(5, -0.5, 1.0)});
    REQUIRE(plan.status == PlanStatus::ok);
    // 0.14 Hz of a plan and 5 % of what is taken
    CHECK(plan.outcomes[0].after_sd_hz == Approx(0.142).margin(0.02));
}

TEST_CASE("six passes leave no pits: depth counts from the graduation, not from the newest map") {
    // A plate that answers less than the model says, so that every plan wants more: the target runs
    // away by as much as the pass came nearer.
    const auto deepest_after_six = [](bool remembers) {
        Eigen::VectorXd now = known_back().thickness;
        double mean_mm = 0.0, deepest = 0.0;
        for (int pass = 0; pass < 6; ++pass) {
            PlanLimits limits;
            if (remembers)
                limits.hollow_mm = hollows_mm(known_back().model, known_back().thickness, now);
            const auto plan = make_plan(
                known_back().model, known_back().fit, now,
                std::vector{known_back().target(5, -25.0), known_back().target(2, -4.0)}, limits);
            now -= plan.pass_mm;
            const Eigen::VectorXd& area = known_back().model.node_area_mm2();
            mean_mm = area.dot(known_back().thickness - now) / area.sum();
            deepest = (known_back().thickness - now).maxCoeff() - mean_mm;
        }
        CHECK(mean_mm > 0.1); // wood was taken all the same
        return deepest;
    };
    CHECK(deepest_after_six(true) <= 0.6 + 0.03); // what is left over in a deep hollow
    CHECK(deepest_after_six(false) > 0.75);
}

TEST_CASE("a hollow that is there draws the next plan's wood beside it") {
    const RemovalBasis basis(known_back().model, StrokeField{});
    Eigen::VectorXd depths = Eigen::VectorXd::Zero(std::ssize(basis.strokes()));
    const auto plan_with = [](const Eigen::VectorXd& hollow) {
        PlanLimits limits;
        limits.hollow_mm = hollow;
        return make_plan(known_back().model, known_back().fit, known_back().thickness,
                         std::vector{known_back().target(5, -8.0)}, limits);
    };
    const auto fresh = plan_with({});
    Eigen::Index most = 0;
    fresh.depths_mm.maxCoeff(&most);
    depths[most] = 0.5;
    const Eigen::VectorXd hollow = basis.at_nodes() * depths;
    CHECK(as_strokes(basis, hollow)[most] == Approx(0.5).margin(0.03));
    const auto next = plan_with(hollow);
    REQUIRE(next.status == PlanStatus::ok);
    const Eigen::VectorXd left = known_back().thickness - next.removal_mm;
    CHECK((hollows_mm(known_back().model, known_back().thickness, left) + hollow).maxCoeff() <
          0.6 + 0.011);
    CHECK(next.depths_mm[most] < 0.5 * fresh.depths_mm[most]);
}

TEST_CASE("thinning evenly makes no hollow, one place alone does") {
    const Eigen::VectorXd& before = known_back().thickness;
    CHECK(hollows_mm(known_back().model, before, (before.array() - 0.4).matrix())
              .cwiseAbs()
              .maxCoeff() < 1e-9);
    Eigen::VectorXd dug = before;
    dug[100] -= 0.5;
    const Eigen::VectorXd hollow = hollows_mm(known_back().model, before, dug);
    CHECK(hollow[100] == Approx(0.5).margin(0.01));
    CHECK(std::abs(hollow[200]) < 0.01);
    CHECK_THROWS_AS(hollows_mm(known_back().model, before, dug.head(10)), std::invalid_argument);
}

TEST_CASE("what thinning can't reach is said, with the nearest") {
    const std::vector<PlanTarget> targets{known_back().target(2, +12.0),
                                          known_back().target(5, -15.0)};
    const auto plan =
        make_plan(known_back().model, known_back().fit, known_back().thickness, targets);
    CHECK(plan.status == PlanStatus::not_reachable);
    CHECK(plan.summary.find("can't be brought to") != std::string::npos);
    CHECK(plan.summary.find("the nearest is") != std::string::npos);
    CHECK(plan.outcomes[0].after_hz < plan.outcomes[0].want_hz);
    // thin already: nothing may be taken
    PlanLimits thick_only;
    thick_only.least_mm = 6.0;
    const auto none = make_plan(known_back().model, known_back().fit, known_back().thickness,
                                std::vector{known_back().target(5, -5.0)}, thick_only);
    CHECK(none.status == PlanStatus::not_reachable);
    CHECK(none.removal_mm.maxCoeff() == 0.0);
}

TEST_CASE("where not all goals can be met, the nearest goes beyond none of them") {
    const std::vector<PlanTarget> apart{known_back().target(2, -1.0),
                                        known_back().target(5, -25.0)};
    const auto plan =
        make_plan(known_back().model, known_back().fit, known_back().thickness, apart);
    CHECK(plan.status == PlanStatus::not_reachable);
    CHECK(plan.outcomes[0].after_hz > plan.outcomes[0].want_hz - 2.0 * k_met_hz);
    CHECK(plan.held == std::vector{2});
    CHECK(plan.summary.find("More would take mode 2 (X) below its goal.") != std::string::npos);
    CHECK(plan.outcomes[1].after_hz < plan.outcomes[1].now_hz - 4.0); // and yet goes on its way
    // a mode that lies below its goal already is not taken further down for another's sake
    const std::vector<PlanTarget> below{known_back().target(2, +1.0),
                                        known_back().target(5, -25.0)};
    const auto held =
        make_plan(known_back().model, known_back().fit, known_back().thickness, below);
    CHECK(held.outcomes[0].after_hz > held.outcomes[0].now_hz - 2.0 * k_met_hz);
}

TEST_CASE("a scraper that goes a fifth deeper here and there leaves no place too thin") {
    const Known& known = known_back();
    PlanLimits limits;
    limits.least_mm = 3.0;
    const auto plan = make_plan(known.model, known.fit, known.thickness,
                                std::vector{known.target(5, -12.0)}, limits);
    const auto left = [&](double deeper) {
        const Eigen::ArrayXd mm = known.thickness - deeper * plan.removal_mm;
        return (mm - known.thickness.array().min(limits.least_mm)).minCoeff();
    };
    CHECK(left(1.2) >= -1e-6);
    CHECK(left(1.3) < 0.0); // and as far as that wood is taken
}

TEST_CASE("a wider platform is left alone") {
    const Known& known = known_back();
    const std::vector<PlanTarget> targets{known.target(5, -3.0)};
    PlanLimits limits;
    limits.field.edge_mm = 25.0;
    const auto plan = make_plan(known.model, known.fit, known.thickness, targets, limits);
    REQUIRE(plan.status == PlanStatus::ok);
    const auto& rim = known.model.form().outline.rim;
    for (std::size_t i = 0; i < known.model.nodes(); ++i)
        if (distance_mm(rim, known.model.points()[i]) < 25.0)
            CHECK(plan.removal_mm[static_cast<Eigen::Index>(i)] == Approx(0.0).margin(1e-12));
}

TEST_CASE("where no wood may be taken, the plan says so and gives no figures of wood") {
    const Known& known = known_back();
    const std::vector<PlanTarget> targets{known.target(5, -6.0)};
    PlanLimits limits;
    limits.least_mm = 9.0;
    const auto plan = make_plan(known.model, known.fit, known.thickness, targets, limits);
    CHECK(plan.status == PlanStatus::not_reachable);
    CHECK(plan.deepest_mm < k_no_removal_mm);
    CHECK(plan.summary.find("No wood that may be taken") != std::string::npos);
}

TEST_CASE("every plan that takes wood carries its cautions") {
    const auto plan = make_plan(known_back().model, known_back().fit, known_back().thickness,
                                std::vector{known_back().target(5, -6.0)});
    std::string all;
    for (const auto& caution : plan.cautions)
        all += caution + "\n";
    for (const auto* part : {"can't be put back", "intervals of 95 %", "behind the edge", "dust",
                             "tap and plan again"})
        CHECK(all.find(part) != std::string::npos);
    const auto idle = make_plan(known_back().model, known_back().fit, known_back().thickness,
                                std::vector{known_back().target(5, 0.0)});
    CHECK(idle.status == PlanStatus::nothing_to_do);
    CHECK(idle.wood_g < 0.01);
}

TEST_CASE("targets come from a reference by equal frequency or equal ratio") {
    const std::vector<TappedMode> now{{1, 120, .1}, {2, 180, .1}, {5, 370, .1}};
    const std::vector<TappedMode> liked{{2, 170, .1}, {5, 345, .1}};
    const auto equal = targets_from(now, liked, Likeness::equal_frequency);
    REQUIRE(equal.size() == 2);
    CHECK(equal[1].want_hz == Approx(345.0));
    const auto ratio = targets_from(now, liked, Likeness::equal_ratio);
    REQUIRE(ratio.size() == 2);
    CHECK(ratio[0].want_hz == Approx(180.0));
    CHECK(ratio[1].want_hz == Approx(345.0 * 180.0 / 170.0));
}

TEST_CASE("a plan without targets or with impossible shares is a wrong call") {
    CHECK_THROWS_AS(make_plan(known_back().model, known_back().fit, known_back().thickness, {}),
                    std::invalid_argument);
    PlanLimits limits;
    limits.pass_share = 0.0;
    CHECK_THROWS_AS(make_plan(known_back().model, known_back().fit, known_back().thickness,
                              std::vector{known_back().target(5, -5.0)}, limits),
                    std::invalid_argument);
}
