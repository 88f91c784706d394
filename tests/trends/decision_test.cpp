#include "support/catch.hpp"
#include "trends/decision/decision.hpp"
#include "trends/decision/pass_rule.hpp"
#include "trends/drift/repeatability.hpp"
#include "trends/model/cut_trial.hpp"
#include "trends/model/plan_zones.hpp"
#include "wording/language.hpp"
#include "wording/say.hpp"

using namespace platewright;
using trends::Advice;
using trends::Decision;
using trends::Goal;
using trends::TargetOutlook;

namespace {

modes::Mode mode(double hz, int taps = 6, double spread_hz = 0.3) {
    modes::Mode one;
    one.frequency_hz = hz;
    one.spread_hz = spread_hz;
    one.frequency_sd_hz = 0.1;
    one.taps = taps;
    return one;
}

/// An invented back on the bench with modes 1, 2 and 5 named.
struct Stand {
    ledger::PlateHistory history;
    std::vector<Goal> goals;
    std::vector<TargetOutlook> outlooks;
    std::optional<taps::Spot> ask;
    std::optional<trends::PassForesight> foresight;

    explicit Stand(double mode_5_hz = 360, int taps = 6, double spread_hz = 0.3) {
        ledger::SessionHistory session;
        session.session.mass_g = 110;
        session.taps.resize(static_cast<std::size_t>(taps));
        session.modes.push_back({.mode = mode(115, taps, 0.2), .name = modes::ModeName{1, 0.99}});
        session.modes.push_back({.mode = mode(172, taps, 0.2), .name = modes::ModeName{2, 0.99}});
        session.modes.push_back(
            {.mode = mode(mode_5_hz, taps, spread_hz), .name = modes::ModeName{5, 0.99}});
        history.sessions.push_back(session);
    }
    ledger::SessionHistory& session() { return history.sessions.back(); }
    void goal(int number, double hz, std::optional<trends::Interval> grams = std::nullopt,
              double safe_g = 0) {
        goals.push_back({number, hz});
        outlooks.push_back(
            {.number = number, .target_hz = hz, .grams = grams, .pass_g = 2.0, .safe_g = safe_g});
    }
    Decision decision() {
        std::vector<TargetOutlook> now = outlooks;
        if (foresight)
            trends::take_word_of_model(now, goals, session(), *foresight);
        return trends::decide({.history = &history,
                               .session = &session(),
                               .ask_spot = ask,
                               .goals = goals,
                               .outlooks = now,
                               .foresight = foresight ? &*foresight : nullptr});
    }
    /// A pass of 2 g at the upper bout, by which mode 5 falls so far.
    void foresee(double fall_hz, double sd_hz, trends::MeasureFirst first = {}) {
        const auto there = trends::at_the_place({fall_hz / 2.0, sd_hz / 2.0}, outlooks[0].per_gram);
        foresight = trends::PassForesight{
            goals, {{5, {there, 2.0, 0.0}}}, 2.0, "upper bout, both sides", std::move(first)};
    }
};

} // namespace

// A top with f-holes, its first session: "3 more good taps here: centre." stood there after
// twenty-three, five of them at the centre, and would have stood there for good.
TEST_CASE("a name that taps at its spot don't settle is asked of the maker") {
    Stand asked(360, 4);
    asked.ask = taps::Spot::upper_end;
    const auto strike = [&](taps::Spot spot, int times) {
        for (int i = 0; i < times; ++i)
            asked.session().taps.push_back({.verdict = taps::Verdict::accepted, .spot = spot});
    };
    strike(taps::Spot::upper_end, 5);
    CHECK(trends::sentence_of(asked.decision()) == "1 more good tap here: upper end.");
    strike(taps::Spot::upper_end, 1);
    CHECK(trends::sentence_of(asked.decision()) == "More taps won't tell. Name it by hand: M.");
    asked.session().modes.clear(); // not found: asked for at the centre
    CHECK(trends::sentence_of(asked.decision()) == "3 more good taps here: centre.");
    strike(taps::Spot::centre, 6);
    CHECK(trends::sentence_of(asked.decision()) == "More taps won't tell. Name it by hand: M.");
    CHECK(trends::reason_of(asked.decision()) == "Mode 5 (ring) is not found yet.");
}

TEST_CASE("before a tap, and with too few, the bench asks for taps and says where") {
    Stand none(360, 0);
    none.session().modes.clear();
    CHECK(none.decision().advice == Advice::tap);
    CHECK(none.decision().taps_wanted == 3);
    CHECK(none.decision().spot == taps::Spot::centre);
    Stand two(360, 2);
    two.goal(5, 349);
    CHECK(two.decision().advice == Advice::tap);
    CHECK(two.decision().taps_wanted == 1);
    CHECK(two.decision().number == 5);
}

TEST_CASE("taps that lie wide apart are not enough: their own doubt has to be below what hanging "
          "anew does") {
    Stand wide(360, 4, 3.0); // 3.18 * 3 / 2 = 4.8 Hz of 360, over half a percent
    wide.goal(5, 349);
    CHECK(wide.decision().advice == Advice::tap);
    CHECK(wide.decision().taps_wanted == 2);
    Stand narrow(360, 4, 1.0); // 1.6 Hz
    narrow.goal(5, 349);
    CHECK(narrow.decision().advice != Advice::tap);
}

TEST_CASE("a doubt about a name that a tap would settle comes before wood") {
    Stand stand;
    stand.goal(5, 349);
    stand.ask = taps::Spot::upper_end;
    CHECK(stand.decision().advice == Advice::tap);
    CHECK(stand.decision().spot == taps::Spot::upper_end);
    for (ledger::ModeRecord& one : stand.session().modes) // the maker has said what they are
        one.name->by_maker = true;
    CHECK(stand.decision().advice == Advice::take);
}

TEST_CASE("without a goal it is weighed, and then a goal is asked for") {
    Stand stand;
    CHECK(stand.decision().advice == Advice::set_goal);
    stand.session().session.mass_g.reset();
    CHECK(stand.decision().advice == Advice::weigh);
}

TEST_CASE("a goal reached within the doubt says stop, and one beyond it says so") {
    const double doubt = 1.959964 * trends::session_sd_hz(mode(350));
    Stand at(349 + 0.9 * doubt);
    at.goal(5, 349);
    CHECK(at.decision().advice == Advice::stop);
    CHECK_FALSE(at.decision().passed);
    CHECK(at.decision().doubt_hz == Approx(doubt).epsilon(0.01));
    Stand above(349 + 1.2 * doubt);
    above.goal(5, 349);
    CHECK(above.decision().advice == Advice::take);
    Stand below(349 - 1.2 * doubt);
    below.goal(5, 349);
    CHECK(below.decision().advice == Advice::stop);
    CHECK(below.decision().passed);
}

TEST_CASE(
    "wood is named only of a weighed plate, half of what is left, and never more than is safe") {
    Stand stand;
    stand.goal(5, 349, trends::Interval{4.0, 2.0, 6.0}, 3.0);
    CHECK(stand.decision().advice == Advice::take);
    CHECK(stand.decision().take_g == Approx(2.0));
    CHECK(stand.decision().by_history);
    stand.outlooks[0].safe_g = 1.26;
    CHECK(stand.decision().take_g == Approx(1.2));
    stand.outlooks[0].safe_g = 0.0;
    CHECK(stand.decision().take_g == Approx(0.1));
    stand.session().session.mass_g.reset();
    CHECK(stand.decision().advice == Advice::weigh);
}

TEST_CASE("without a forecast so little is named that three times the even effect does not pass "
          "the goal") {
    Stand stand(360);
    stand.goal(5, 340);
    const Decision decision = stand.decision();
    REQUIRE(decision.advice == Advice::take);
    CHECK_FALSE(decision.by_history);
    // f falls as m^3 where a gram does three times what even thinning does.
    const double left = std::pow((110 - decision.take_g) / 110, 3.0) * 360;
    CHECK(left > 340);
    CHECK(decision.take_g > 0.5);
}

TEST_CASE("of several goals the one reached first decides, and a passed one before all") {
    Stand stand(360);
    stand.goal(5, 340, trends::Interval{6, 4, 8}, 4.0);
    stand.goal(2, 168, trends::Interval{2, 1, 3}, 1.0);
    CHECK(stand.decision().number == 2);
    CHECK(stand.decision().take_g == Approx(1.0));
    stand.goals[0].hz = 380; // mode 5 is below it
    CHECK(stand.decision().advice == Advice::stop);
    CHECK(stand.decision().number == 5);
    CHECK(stand.decision().passed);
}

TEST_CASE("the plate's targets are its goals, else the reference's modes") {
    ledger::PlateHistory history;
    trends::Comparison comparison;
    trends::ComparedMode five;
    five.number = 5;
    five.reference = mode(349);
    comparison.modes = {five};
    REQUIRE(trends::goals_of(history, &comparison).size() == 1);
    CHECK(trends::goals_of(history, &comparison)[0].of_reference);
    history.targets.push_back({5, 345});
    REQUIRE(trends::goals_of(history, &comparison).size() == 1);
    CHECK(trends::goals_of(history, &comparison)[0].hz == 345);
    CHECK(trends::goals_of({}, nullptr).empty());
}

TEST_CASE(
    "each decision is one sentence with its reason, and taking wood says that it can't be undone") {
    Stand stand;
    stand.goal(5, 349, trends::Interval{4.0, 2.0, 6.0}, 3.0);
    CHECK(trends::sentence_of(stand.decision()) == "Take 2.0 g at most, then tap again.");
    CHECK_THAT(trends::reason_of(stand.decision()), ContainsSubstring("can't be put back"));
    stand.outlooks[0].past_it = 0.87;
    CHECK_THAT(trends::reason_of(stand.decision()),
               ContainsSubstring("A pass as large as usual") && ContainsSubstring("87 %"));
    // Beside what may go stands no second gram, and no forecast is certain.
    CHECK(trends::reason_of(stand.decision()).find("2.0 g") == std::string::npos);
    stand.outlooks[0].past_it = 0.9999;
    CHECK_THAT(trends::reason_of(stand.decision()), ContainsSubstring("99 %"));
    const wording::Speaking german(wording::Language::german);
    CHECK(trends::sentence_of(stand.decision()) ==
          "H\u00f6chstens 2,0 g abnehmen, dann neu anschlagen.");
}

TEST_CASE("where the model knows the place the grams are of that place, and it is named") {
    Stand stand;
    stand.goal(5, 349);
    const double blind = stand.decision().take_g;
    stand.foresee(8.0, 0.4); // 4 Hz a gram: 11 Hz are 2.75 g
    const Decision there = stand.decision();
    CHECK(there.advice == Advice::take);
    CHECK(there.by_model);
    CHECK_FALSE(there.by_history);
    CHECK(there.where == "upper bout, both sides");
    CHECK(there.grams->value == Approx(2.75));
    CHECK(there.take_g > blind);
    CHECK(there.take_g < 2.75);
    CHECK(trends::sentence_of(there).find("upper bout, both sides") != std::string::npos);
    CHECK(trends::reason_of(there).find("can't be put back") != std::string::npos);
    stand.foresee(16.0, 0.8); // a place that tells twice as much
    CHECK(stand.decision().take_g == Approx(0.5 * there.take_g).margin(0.11));
    stand.goals[0].hz = 350; // of another goal the plan says nothing
    CHECK_FALSE(stand.decision().by_model);
}

TEST_CASE(
    "the plate's own sessions and its model are one forecast, and a quarrel makes it careful") {
    Stand stand;
    stand.goal(5, 349, trends::Interval{2.5, 1.5, 4.0}, 2.0);
    stand.outlooks[0].per_gram = trends::PerGram{4.4, 0.3};
    stand.foresee(8.0, 0.8);
    const Decision agreed = stand.decision();
    CHECK(agreed.by_model);
    CHECK(agreed.by_history);
    CHECK(agreed.grams->value > 2.5); // between 11 / 4.4 and 11 / 4.0
    CHECK(agreed.grams->value < 2.75);
    stand.outlooks[0].per_gram = trends::PerGram{16.0, 0.3}; // four times what the model says
    stand.foresee(8.0, 0.8);
    CHECK(stand.decision().take_g < agreed.take_g);
    CHECK(stand.decision().grams->high - stand.decision().grams->low >
          agreed.grams->high - agreed.grams->low);
}

TEST_CASE("one chance of one pass: what warns beside the decision has the model's word too") {
    Stand stand;
    stand.goal(5, 349, trends::Interval{2.5, 1.5, 4.0}, 1.0);
    stand.outlooks[0].per_gram = trends::PerGram{4.4, 0.3};
    stand.outlooks[0].past_it = 0.6; // by the sessions alone
    stand.foresee(16.0, 0.8);
    std::vector<TargetOutlook> told = stand.outlooks;
    trends::take_word_of_model(told, stand.goals, stand.session(), *stand.foresight);
    const Decision decision = stand.decision();
    CHECK(told[0].past_it == decision.past_it);
    CHECK(told[0].past_it != 0.6);
    CHECK(told[0].grams->value == decision.grams->value);
    const std::string chance = wording::figure(100.0 * told[0].past_it.value(), 0) + " %";
    CHECK(warning_of(told[0]).find(chance) != std::string::npos);
    CHECK(warning_of(told[0]).find("at most") == std::string::npos); // the decision says how much
}

TEST_CASE("where the model's limits surely keep a goal out of reach, that is said before wood") {
    Stand stand;
    stand.goal(5, 340);
    stand.foresee(8.0, 0.4); // 2 g of 4 Hz a gram: 352 of 340 Hz
    REQUIRE(stand.decision().advice == Advice::take);
    stand.foresight->is_limited = true;
    stand.foresight->least_mm = 2.0;
    stand.foresight->deepest_mm = 0.6;
    const Decision short_of = stand.decision();
    CHECK(short_of.advice == Advice::other_goal);
    CHECK_FALSE(trends::is_of_wood(short_of.advice));
    CHECK(short_of.lowest_hz == Approx(352));
    CHECK(short_of.lowest_doubt_hz > 0.8); // the model's and the hold's
    CHECK(trends::sentence_of(short_of) ==
          "Thinning can't bring mode 5 to its goal: 352 Hz is the lowest.");
    CHECK_THAT(trends::reason_of(short_of), ContainsSubstring("no place under 2.0 mm") &&
                                                ContainsSubstring("can't be put back"));
    stand.foresee(8.0, 8.0); // it may well be reached
    stand.foresight->is_limited = true;
    CHECK(stand.decision().advice != Advice::other_goal);
    // Nothing at all may go: the mode stays where it is.
    stand.foresee(8.0, 0.4);
    stand.foresight->is_limited = true;
    stand.foresight->wood_g = 0.0;
    CHECK(stand.decision().advice == Advice::other_goal);
    CHECK(stand.decision().lowest_hz == Approx(360));
    stand.goals[0].hz = 341; // of another goal the model said nothing
    CHECK(stand.decision().advice == Advice::take);
}

TEST_CASE("a goal above the mode is said to be out of thinning's reach") {
    Stand stand(345);
    stand.goal(5, 360);
    CHECK(trends::sentence_of(stand.decision()) ==
          "Stop: mode 5 is 15.0 Hz below its goal. Thinning can't raise it.");
}

TEST_CASE(
    "of the reference's frequency the decision says reference, as lane and drift do, no goal") {
    const auto words_about = [](double hz, bool with_sessions = false) {
        Stand stand(355);
        stand.goal(5, hz);
        stand.goals[0].of_reference = true;
        trends::Decision d = stand.decision();
        d.sessions = with_sessions ? 3 : 1;
        return trends::sentence_of(d) + " " + trends::reason_of(d);
    };
    CHECK_THAT(words_about(349), ContainsSubstring("Mode 5 (ring) is 6.0 ± ") &&
                                     ContainsSubstring(" Hz above the reference."));
    CHECK_THAT(words_about(349, true),
               ContainsSubstring(" Hz above the reference, by its last 3 sessions."));
    CHECK_THAT(words_about(355), ContainsSubstring("Stop: mode 5 is at the reference.") &&
                                     ContainsSubstring("reference 355.0 Hz: within its doubt"));
    CHECK_THAT(words_about(370), ContainsSubstring("Stop: mode 5 is 15.0 Hz below the reference."));
    Stand stand(360);
    stand.goal(5, 340);
    stand.goals[0].of_reference = true;
    stand.foresee(8.0, 0.4);
    stand.foresight->is_limited = true;
    const trends::Decision short_of = stand.decision();
    REQUIRE(short_of.advice == Advice::other_goal);
    CHECK_THAT(trends::sentence_of(short_of) + trends::reason_of(short_of),
               ContainsSubstring("can't bring mode 5 to the reference") &&
                   ContainsSubstring("; reference 340.0 Hz."));
    CHECK(trends::words_of(trends::BeyondGoal{{5, 340, true}, 0.5}) ==
          "mode 5 (ring) would go beyond the reference, 340.0 Hz, with a chance of 50 %.");
}

TEST_CASE("while the last tap rang like another plate, no wood is spoken of") {
    Stand stand;
    stand.goal(5, 349, trends::Interval{2.5, 1.5, 4.0}, 2.0);
    REQUIRE(stand.decision().advice == Advice::take);
    ledger::TapRecord stranger;
    stranger.verdict = taps::Verdict::stranger;
    stand.session().taps.push_back(stranger);
    CHECK(stand.decision().advice == Advice::tap);
    CHECK(trends::sentence_of(stand.decision()) == "See which plate hangs here, then tap it.");
    CHECK(trends::reason_of(stand.decision()).find("another plate") != std::string::npos);
    stand.session().taps.back().verdict = taps::Verdict::accepted;
    CHECK(stand.decision().advice == Advice::take);
}

TEST_CASE("a doubt that is wider than the gap asks for a measurement before wood") {
    Stand stand;
    stand.goal(5, 349);
    const trends::MeasureFirst flex{"Bend it: lengthwise, 500 g.", 5, 0.5, 3.0};
    stand.foresee(4.0, 0.4, flex);
    CHECK(stand.decision().advice == Advice::take); // sure enough
    stand.foresee(4.0, 8.0, flex);
    const Decision asked = stand.decision();
    CHECK(asked.advice == Advice::measure);
    CHECK(trends::is_of_wood(asked.advice));
    CHECK(trends::sentence_of(asked).find(flex.what) != std::string::npos);
    CHECK(trends::reason_of(asked).find("50 %") != std::string::npos);
    stand.foresee(4.0, 8.0); // nothing is worth its minutes
    CHECK(stand.decision().advice == Advice::take);
    CHECK(stand.decision().take_g == Approx(asked.take_g));
}

TEST_CASE("where the wood comes off is said as it lies before who takes it off the inside") {
    std::vector<trends::PlanZone> zones(
        9); // upper bout left, middle, right, then waist, lower bout
    CHECK(trends::where_of(zones).empty());
    zones[0].wood_g = 0.5;
    CHECK(trends::where_of(zones) == "upper bout, right (seen from the inside)");
    zones[2].wood_g = 0.4;
    CHECK(trends::where_of(zones) == "upper bout, both sides");
    zones[1].wood_g = 0.4;
    zones[7].wood_g = 0.9;
    zones[3].wood_g = 0.2; // too little to be named beside the others
    CHECK(trends::where_of(zones) == "upper bout; lower bout, middle");
}

TEST_CASE("beside a decision that names a spot a doubt about names names no other") {
    modes::Naming naming;
    naming.doubt.sentence = "There is not enough evidence for mode 1 (twist).";
    naming.doubt.ask_spot = taps::Spot::upper_bout_left;
    const Decision elsewhere{.advice = Advice::tap, .spot = taps::Spot::lower_bout_right};
    const Decision anywhere{.advice = Advice::tap}, weigh{.advice = Advice::weigh};
    CHECK(trends::doubt_beside(naming, elsewhere) == naming.doubt.sentence);
    for (const Decision& d : {anywhere, weigh})
        CHECK(trends::doubt_beside(naming, d) ==
              naming.doubt.sentence + " A tap at this spot would help: upper bout, left.");
    CHECK(trends::doubt_beside({}, weigh).empty());
}
