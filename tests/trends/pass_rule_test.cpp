#include "support/catch.hpp"
#include "trends/model/plan_request.hpp"
#include "trends/plate_report.hpp"
#include "trends/review/pass_review.hpp"
#include "trends/story.hpp"

using namespace platewright;
using namespace platewright::trends;
using platewright::test::Story;

namespace {

Level mode_at(double hz) {
    modes::Mode mode;
    mode.frequency_hz = hz;
    mode.frequency_sd_hz = 0.1;
    return level_of(mode);
}

} // namespace

TEST_CASE("a pass is four fifths of what is left, at most what is safe, in tenths of a gram") {
    // 360 to 340 Hz at 4 Hz a gram, surely: 5 g are left, and 4 g are four fifths.
    const WayToGoal sure = way_to_goal(mode_at(360.0), 340.0, {4.0, 0.01}, 10.0);
    CHECK(sure.grams.value().value == Approx(5.0).margin(0.01));
    CHECK(sure.pass_g == Approx(4.0));
    // No more than the model would take in all.
    CHECK(way_to_goal(mode_at(360.0), 340.0, {4.0, 0.01}, 2.55).pass_g == Approx(2.5));
    // Where the gram is in doubt, as much as goes beyond with a chance of 2.5 %.
    const WayToGoal doubtful = way_to_goal(mode_at(360.0), 340.0, {4.0, 2.0}, 10.0);
    CHECK(chance_below(doubtful.beyond, {4.0, 2.0}, doubtful.safe_g) == Approx(0.025).margin(1e-6));
    CHECK(doubtful.pass_g <= doubtful.safe_g);
    CHECK(doubtful.pass_g > doubtful.safe_g - 0.1);
    // What no scraper can halve is a tenth.
    CHECK(way_to_goal(mode_at(360.0), 359.9, {4.0, 0.01}, 10.0).pass_g == Approx(0.1));
}

TEST_CASE("plan and bench name the same grams for the next pass") {
    Story story({0.0});
    const double now_hz = story.history.sessions[0].modes.back().mode.frequency_hz;
    const int number = story.history.sessions[0].modes.back().name->number;
    for (const double gap : {0.025, 0.04, 0.06}) {
        const double want_hz = now_hz * (1.0 - gap);
        story.history.targets = {{.number = number, .frequency_hz = want_hz}};
        for (ledger::TapRecord& tap :
             story.history.sessions[0].taps = std::vector<ledger::TapRecord>(5))
            tap.verdict = taps::Verdict::accepted;
        const auto study = study_plate(story.history, 0);
        REQUIRE(study);
        PlanRequest request;
        request.limits = usual_limits(story.history.instrument.kind);
        request.wishes = goals_of(story.history);
        const auto kept = answer(*study, request);
        REQUIRE(kept);
        const PlateReport report = report_with_model({.history = &story.history, .session = 0});
        REQUIRE(report.decision.by_model);
        CHECK(kept->record.pass_share * kept->record.wood_g ==
              Approx(report.decision.take_g).margin(1e-9));
        CHECK(kept->plan.pass_mm.isApprox(kept->record.pass_share * kept->plan.removal_mm));
        // The maker's own share goes before.
        request.limits.pass_share = 0.25;
        CHECK(answer(*study, request)->record.pass_share == 0.25);
    }
}

TEST_CASE("a plan that another version of the model made is told as such") {
    ledger::PlanRecord plan;
    plan.model_version = std::string(k_model_version);
    CHECK_FALSE(is_of_older_model(plan));
    plan.model_version = "1";
    CHECK(is_of_older_model(plan));
}
