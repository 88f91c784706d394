// Where a mode is now by all sessions: held to the truth that hangings and taps hide.
#include "support/catch.hpp"
#include "trends/model/plan_request.hpp"
#include "trends/plate_report.hpp"
#include "trends/story.hpp"
#include "wording/say.hpp"

#include <random>

using namespace platewright;
using namespace platewright::trends;
using platewright::test::Story;

namespace {

/// Four sessions, thinned between them; the last three hung by so many parts too low or high.
ledger::PlateHistory hung(const Story& story, std::array<double, 3> parts) {
    ledger::PlateHistory history = story.with_heights();
    for (std::size_t s = 0; s < parts.size(); ++s)
        for (ledger::ModeRecord& mode : history.sessions[s + 1].modes)
            mode.mode.frequency_hz *= 1.0 + parts[s];
    return history;
}

const Story& thinned() {
    static const Story story({0.0, 0.1, 0.15, 0.2});
    return story;
}

const ModeNow& mode_5(const PlateStudy& study) {
    return *std::ranges::find(study.modes, 5, &ModeNow::number);
}

double true_hz() { return find_mode(thinned().history.sessions[3].modes, 5)->mode.frequency_hz; }

} // namespace

TEST_CASE("a mode's level by four sessions is nearer the truth than the newest one, and says so") {
    const ledger::PlateHistory history = hung(thinned(), {0.002, -0.001, -0.006});
    const auto study = study_plate(history, 3);
    REQUIRE(study);
    REQUIRE(study->fit.is_plausible);
    const Level level = mode_5(*study).level;
    const double tapped_hz = find_mode(history.sessions[3].modes, 5)->mode.frequency_hz;
    CAPTURE(true_hz(), tapped_hz, level.hz, level.sd_hz);
    CHECK(level.sessions == 4);
    CHECK(std::abs(level.hz - true_hz()) < 0.7 * std::abs(tapped_hz - true_hz()));
    CHECK(level.sd_hz < 0.8 * level_of(find_mode(history.sessions[3].modes, 5)->mode).sd_hz);
    CHECK(std::abs(level.hz - true_hz()) < 2.0 * level.sd_hz);
    CHECK(study->rests_on.back().find("counts from the last 4 sessions") != std::string::npos);
    CHECK(study->rests_on.back().find(wording::figure(level.hz, 1) + " Hz") != std::string::npos);
    // A plan counts from there, and the bench names it.
    ledger::PlateHistory with_goal = history;
    with_goal.targets = {{.number = 5, .frequency_hz = 0.97 * true_hz()}};
    for (ledger::TapRecord& tap : with_goal.sessions[3].taps = std::vector<ledger::TapRecord>(5))
        tap.verdict = taps::Verdict::accepted;
    const PlateReport report = report_with_model({.history = &with_goal, .session = 3});
    REQUIRE(report.decision.advice == Advice::take);
    CHECK(report.decision.now_hz == Approx(level.hz).margin(0.01));
    CHECK(report.decision.sessions == 4);
    CHECK(reason_of(report.decision).find("by its last 4 sessions") != std::string::npos);
    PlanRequest request;
    request.limits = usual_limits(history.instrument.kind);
    request.wishes = goals_of(with_goal);
    const auto made = answer(*study, request);
    REQUIRE(made);
    CHECK(made->plan.outcomes.front().now_hz == Approx(level.hz).margin(0.01));
}

TEST_CASE("where a mode stepped since, the newest session stands alone") {
    const ledger::PlateHistory history = hung(thinned(), {0.0, 0.0, -0.035}); // a bar trimmed
    const auto study = study_plate(history, 3);
    REQUIRE(study);
    const Level level = mode_5(*study).level;
    CHECK(level.sessions == 1);
    CHECK(level.hz == find_mode(history.sessions[3].modes, 5)->mode.frequency_hz);
}

TEST_CASE("a mass that is mistyped does not move the level") {
    ledger::PlateHistory history = hung(thinned(), {0.002, -0.001, -0.006});
    const auto right = study_plate(history, 3);
    *history.sessions[2].session.mass_g -= 20.0;
    const auto wrong = study_plate(history, 3);
    REQUIRE(right);
    REQUIRE(wrong);
    CHECK(mode_5(*wrong).level.hz ==
          Approx(mode_5(*right).level.hz).margin(mode_5(*right).level.sd_hz));
}

TEST_CASE("what is within reach of the newest session alone may not be enough by all of them") {
    // The newest hung low: alone it would say stop.
    ledger::PlateHistory history = hung(thinned(), {0.001, -0.001, -0.0065});
    history.targets = {{.number = 5, .frequency_hz = 0.9895 * true_hz()}};
    for (ledger::TapRecord& tap : history.sessions[3].taps = std::vector<ledger::TapRecord>(5))
        tap.verdict = taps::Verdict::accepted;
    CHECK(report_on({.history = &history, .session = 3}).decision.advice == Advice::stop);
    CHECK(report_with_model({.history = &history, .session = 3}).decision.advice == Advice::take);
}
