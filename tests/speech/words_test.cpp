// What is said of a session: short, whole numbers, in each language, and the decision's own
// sentence.
#include "speech/words.hpp"
#include "support/catch.hpp"
#include "wording/language.hpp"

#include <array>

using namespace platewright;

namespace {

const std::array k_three{speech::SpokenMode{1, 114.3}, speech::SpokenMode{2, 167.8},
                         speech::SpokenMode{5, 352.4}};

trends::Decision taking() {
    trends::Decision decision;
    decision.advice = trends::Advice::take;
    decision.number = 5;
    decision.now_hz = 352.4;
    decision.goal_hz = 348.0;
    decision.take_g = 1.24;
    return decision;
}

} // namespace

TEST_CASE("The mode that decides is said with what is left, then the decision") {
    CHECK(speech::spoken(k_three, taking()) ==
          "5: 352, 4 to go. Take 1.2 g at most, then tap again.");
    const wording::Speaking german(wording::Language::german);
    CHECK(speech::spoken(k_three, taking()).starts_with("5: 352, noch 4. "));
    CHECK(speech::spoken(k_three, taking()).find("1,2 g") != std::string::npos);
}

TEST_CASE("Where no mode decides, all three are said") {
    trends::Decision decision;
    decision.advice = trends::Advice::set_goal;
    CHECK(speech::spoken(k_three, decision) == "1: 114, 2: 168, 5: 352. Enough taps. Set a goal.");
    const wording::Speaking italian(wording::Language::italian);
    CHECK(speech::spoken(k_three, decision).starts_with("1: 114, 2: 168, 5: 352. "));
}

TEST_CASE("What is left is the difference of what is said, below and at the goal too") {
    trends::Decision decision = taking();
    decision.advice = trends::Advice::stop;
    decision.now_hz = 347.6;
    CHECK(speech::spoken({}, decision).starts_with("5: 348, at its goal. "));
    decision.now_hz = 345.4;
    decision.passed = true;
    CHECK(speech::spoken({}, decision).starts_with("5: 345, 3 below its goal. "));
    decision.of_reference = true;
    CHECK(speech::spoken({}, decision).starts_with("5: 345, 3 below the reference. "));
}

TEST_CASE("A body's modes are said as words") {
    const std::array body{speech::SpokenMode{modes::k_a0, 275.0},
                          speech::SpokenMode{modes::k_b1_minus, 449.2}};
    trends::Decision decision;
    decision.advice = trends::Advice::weigh;
    CHECK(speech::spoken(body, decision).starts_with("A0: 275, B1 minus: 449. "));
}
