#include "support/catch.hpp"
#include "trends/model/plan_request.hpp"
#include "trends/model/plate_now.hpp"
#include "trends/review/pass_review.hpp"
#include "trends/story.hpp"

using namespace platewright;
using namespace platewright::trends;
using platewright::test::Story;

namespace {

/// A plan for a ring mode 8 Hz lower, kept with the story's first session.
struct Planned {
    Story story = Story({0.0});
    PlateStudy study = *study_plate(story.history, 0);
    PlanAnswer made;

    Planned() {
        PlanRequest request;
        request.limits = usual_limits(modes::InstrumentKind::violin);
        request.wishes = {{5, study.tapped.back().frequency_hz - 8.0}};
        auto answered = answer(study, request);
        REQUIRE(answered);
        made = *std::move(answered);
        story.history.sessions[0].plan = made.record;
    }

    /// The plate with the pass done: each place by this share of what the plan takes there.
    void carve(const std::function<double(plate::Point)>& share) {
        const plate::RemovalBasis basis(*study.model, made.limits.field);
        story.add([&](plate::Point p) {
            return Story::thickness_mm(p, 0.0) -
                   made.plan.pass_share * share(p) * basis.depth_mm(p, made.plan.depths_mm);
        });
    }

    PlanHindsight seen() const {
        auto hindsight = hindsight_of(story.history, 1);
        REQUIRE(hindsight);
        CHECK_FALSE(hindsight->carved);
        review_carving(story.history, *hindsight);
        return *hindsight;
    }
};

} // namespace

TEST_CASE("a pass done as planned is seen in the next map, and the taps are as forecast") {
    Planned plan;
    plan.carve([](plate::Point) { return 1.0; });
    const PlanHindsight seen = plan.seen();
    REQUIRE(seen.carved);
    // calipers 24 mm apart blur hollows of 30 mm, the more the narrower they are laid
    CHECK(*seen.carved->likeness > 0.9);
    CHECK(*seen.carved->times == Approx(1.0).margin(0.2));
    CHECK(seen.carved->map_g == Approx(*seen.taken_g).margin(0.1));
    REQUIRE(seen.carved->modes.size() == 3);
    for (const auto& mode : seen.carved->modes)
        CHECK(std::abs(mode.deviations) < 1.0);
}

TEST_CASE("a pass done elsewhere is told from a model that is off") {
    Planned plan;
    plan.carve([](plate::Point p) { return p.y_mm > 178.0 ? 2.5 : 0.0; });
    const PlanHindsight seen = plan.seen();
    REQUIRE(seen.carved);
    REQUIRE(seen.carved->likeness);
    const plate::PlateModel& model = *plan.study.model;
    const Eigen::VectorXd planned =
        planned_pass(plan.made.record, model, modes::InstrumentKind::violin)->at_nodes();
    Eigen::VectorXd taken = planned;
    for (Eigen::Index i = 0; i < taken.size(); ++i)
        taken[i] *= model.points()[static_cast<std::size_t>(i)].y_mm > 178.0 ? 2.5 : 0.0;
    const Eigen::VectorXd area = model.node_area_mm2() / model.node_area_mm2().sum();
    const Eigen::VectorXd a = taken.array() - area.dot(taken),
                          b = planned.array() - area.dot(planned);
    const auto inner = [&](const Eigen::VectorXd& u, const Eigen::VectorXd& v) {
        return area.dot(u.cwiseProduct(v));
    };
    const double truth = inner(a, b) / std::sqrt(inner(a, a) * inner(b, b));
    CHECK(truth < 0.97);
    CHECK(*seen.carved->likeness == Approx(truth).margin(0.08));
    for (const auto& mode : seen.carved->modes)
        CHECK(std::abs(mode.deviations) < 1.0); // for what was really taken the forecast holds
}

TEST_CASE("where a few readings can't tell what a pass took, nothing is told") {
    Planned plan;
    plan.carve([](plate::Point) { return 1.0; });
    for (ledger::SessionHistory& session : plan.story.history.sessions)
        session.thickness.readings.resize(6);
    const PlanHindsight seen = plan.seen();
    REQUIRE(seen.carved);
    CHECK_FALSE(seen.carved->times);
    CHECK_FALSE(seen.carved->likeness);
    CHECK(seen.carved->map_sd_g > 1.0);
    for (const auto& mode :
         seen.carved->modes) // what is told is told with what the maps leave open
        CHECK(std::abs(mode.deviations) < 2.0);
}

TEST_CASE("the plate before the first planned pass, or what its maker calls graduated, is the "
          "graduation") {
    ledger::PlateHistory history;
    for (int i = 0; i < 5; ++i) {
        ledger::SessionHistory one;
        one.session.stage = modes::Stage::graduating;
        if (i != 1)
            one.thickness.readings = {{{0.0, 100.0}, 3.0, ""}};
        history.sessions.push_back(one);
    }
    CHECK_FALSE(graduation_of(history, 4));
    history.sessions[1].plan.emplace(); // by the map of the session before
    history.sessions[2].plan.emplace();
    CHECK(graduation_of(history, 4) == 0);
    history.sessions[3].session.stage = modes::Stage::graduated;
    history.sessions[4].session.stage = modes::Stage::graduated;
    CHECK(graduation_of(history, 4) == 3);
    CHECK(graduation_of(history, 2) == 0);
}

TEST_CASE("the next plan remembers the pass that was done, by its map or by the scales alone") {
    Planned plan;
    CHECK(plan.study.hollow_mm.size() == 0);
    plan.carve([](plate::Point) { return 1.0; });
    const Eigen::VectorXd pass =
        planned_pass(plan.made.record, *plan.study.model, modes::InstrumentKind::violin)
            ->at_nodes();
    const Eigen::VectorXd& area = plan.study.model->node_area_mm2();
    const Eigen::VectorXd dug = pass.array() - area.dot(pass) / area.sum();
    const auto later = study_plate(plan.story.history, 1);
    REQUIRE(later);
    // Calipers 24 mm apart blur hollows of 30 mm: what was planned tells where they lie.
    CAPTURE(pass.maxCoeff());
    CHECK((later->hollow_mm - dug).cwiseAbs().maxCoeff() < 0.1 * pass.maxCoeff());
    CHECK(later->hollow_mm.dot(dug) / dug.squaredNorm() == Approx(1.0).margin(0.05));

    plan.story.history.sessions[1].thickness.readings.clear(); // weighed and tapped, not read
    const auto weighed = study_plate(plan.story.history, 1);
    REQUIRE(weighed);
    CHECK((weighed->hollow_mm - dug).cwiseAbs().maxCoeff() < 0.02);
    plan.story.history.sessions[1].session.mass_g = plan.story.history.sessions[0].session.mass_g;
    CHECK(study_plate(plan.story.history, 1)->hollow_mm.cwiseAbs().maxCoeff() < 0.01); // not done
}

TEST_CASE("the fit learns from the session after the pass: it knows the wood better") {
    Planned plan;
    plan.carve([](plate::Point) { return 1.0; });
    const auto later = study_plate(plan.story.history, 1);
    REQUIRE(later);
    CHECK(later->fitted.size() == 2);
    for (const auto u : {plate::FitUnknown::g_lr, plate::FitUnknown::thickness})
        CHECK(later->fit.sd(u) < plan.study.fit.sd(u));
}

TEST_CASE("what can't be aimed at is said") {
    const Planned plan;
    PlanRequest nothing;
    CHECK(answer(plan.study, nothing).fault().what.find("aim at") != std::string::npos);
    PlanRequest unknown;
    unknown.wishes = {{7, 500.0}};
    CHECK(answer(plan.study, unknown).fault().what.find("Mode 7") != std::string::npos);
    PlanRequest twice;
    twice.wishes = {{5, 350.0}, {5, 340.0}};
    CHECK(answer(plan.study, twice).fault().what.find("two frequencies") != std::string::npos);
    PlanRequest stranger;
    stranger.reference = {{3, 230.0, 0.1}};
    stranger.reference_label = "Heron";
    CHECK(answer(plan.study, stranger).fault().what.find("Heron") != std::string::npos);
}

// question_to asks of such a goal where it is typed; the plan had a second rule, a ratio of 1.5.
TEST_CASE("of a goal that no plate comes to, and is meant, a plan says how far it comes") {
    const Planned plan;
    const double now_hz = plan.study.tapped[2].frequency_hz;
    for (const double share : {0.1, 0.55, 1.6}) {
        CAPTURE(share);
        PlanRequest far;
        far.wishes = {{5, share * now_hz}};
        const auto made = answer(plan.study, far);
        REQUIRE(made);
        CHECK((share > 1.0 ? made->plan.status != plate::PlanStatus::ok
                           : made->plan.status == plate::PlanStatus::not_reachable));
        CHECK(made->plan.wood_g >= 0.0);
        const auto ring = std::ranges::find(made->plan.outcomes, 5, &plate::PlanOutcome::number);
        REQUIRE(ring != made->plan.outcomes.end());
        CHECK(ring->after_hz > 0.6 * now_hz);
        CHECK(ring->after_hz < 1.01 * now_hz);
    }
}

TEST_CASE("a reference's modes are aimed at where nothing is wished of them") {
    const Planned plan;
    PlanRequest request;
    request.wishes = {{5, plan.study.tapped[2].frequency_hz - 5.0}};
    request.reference = {{2, plan.study.tapped[1].frequency_hz - 2.0, 0.1}, {5, 300.0, 0.1}};
    const auto made = answer(plan.study, request);
    REQUIRE(made);
    REQUIRE(made->targets.size() == 3);
    CHECK(made->targets[0].want_hz == Approx(plan.study.tapped[2].frequency_hz - 5.0));
    CHECK(made->targets[1].number == 2);
    CHECK(made->targets[2].firmness < 0.1);
}
