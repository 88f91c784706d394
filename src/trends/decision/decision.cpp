#include "trends/decision/decision.hpp"

#include "base/interval.hpp"
#include "trends/decision/pass_rule.hpp"
#include "trends/drift/repeatability.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::trends {
namespace {

constexpr int k_in_vain = 2 * k_least_taps; // at a spot, where more would tell nothing new
constexpr double k_enough_share =
    0.005; // of its frequency: the taps' own doubt below what hanging anew does
constexpr double k_share_expected = 0.5; // of the expected grams, in one pass
// A pass held below this part of what is left is held there by the doubt: measuring comes first,
// where something narrows the forecast to this part or less.
constexpr double k_held_by_doubt = 0.5, k_narrows = 0.8;
constexpr double k_worst_power = 3.0; // a gram at the most telling place against one spread evenly

/// Half the 95 % interval of a session's frequency, by its taps alone.
double taps_doubt_hz(const modes::Mode& mode) {
    if (mode.taps < 2)
        return mode.frequency_hz;
    return base::plus_minus(mode.spread_hz / std::sqrt(static_cast<double>(mode.taps)),
                            mode.taps - 1);
}

taps::Spot spot_for(int number) {
    switch (number) {
    case 5:
        return taps::Spot::centre;
    case 2:
        return taps::Spot::upper_end;
    case 1:
        return taps::Spot::lower_bout_right;
    case modes::k_a0:
    case modes::k_b1_minus:
    case modes::k_b1_plus:
    case modes::k_cbr:
        return taps::Spot::bridge_bass;
    default:
        return taps::Spot::unknown;
    }
}

int accepted(const ledger::SessionHistory& session) {
    return static_cast<int>(
        std::count_if(session.taps.begin(), session.taps.end(),
                      [](const auto& tap) { return taps::counts(tap.verdict); }));
}

/// Whether it was struck there so often that another tap there settles no name.
bool was_asked_in_vain(taps::Spot spot, const ledger::SessionHistory& session) {
    return spot != taps::Spot::unknown &&
           std::ranges::count_if(session.taps, [spot](const ledger::TapRecord& tap) {
               return tap.spot == spot && taps::counts(tap.verdict);
           }) >= k_in_vain;
}

/// What is still to be tapped before this mode bears a decision; nothing where it does.
std::optional<Decision> taps_for(int number, const ledger::SessionHistory& session) {
    const ledger::ModeRecord* found = find_mode(session.modes, number);
    Decision more{.advice = Advice::tap, .number = number, .spot = spot_for(number)};
    if (found == nullptr) {
        more.taps_wanted = k_least_taps;
        more.by_hand = was_asked_in_vain(more.spot, session);
        return more;
    }
    const modes::Mode& mode = found->mode;
    more.now_hz = mode.frequency_hz;
    if (mode.taps < k_least_taps)
        more.taps_wanted = k_least_taps - mode.taps;
    else if (taps_doubt_hz(mode) > k_enough_share * mode.frequency_hz)
        more.taps_wanted = 2;
    return more.taps_wanted > 0 ? std::optional{more} : std::nullopt;
}

/// The grams of a pass where the model would take it, by the model and the plate's own sessions
/// together; what else of the decision rests on that is filled in.
double take_at_the_place(Decision& d, const PassForesight& foresight,
                         const TargetOutlook& outlook) {
    d.by_model = true;
    d.by_history = outlook.per_gram.has_value();
    d.where = foresight.where;
    if (const auto& rest = outlook.grams; rest && outlook.safe_g < k_held_by_doubt * rest->value &&
                                          !foresight.first.what.empty() &&
                                          foresight.first.remains <= k_narrows) {
        d.advice = Advice::measure;
        d.first = foresight.first;
    }
    return outlook.next_g;
}

/// All the wood that may go falls short of the goal, by more than the model and the hold are in
/// doubt: then grams, which can't be put back, lead nowhere.
bool is_out_of_reach(Decision& d, const Level& now, const PassForesight& foresight) {
    if (!foresight.is_limited)
        return false;
    const auto fall = std::ranges::find(foresight.falls, d.number, &PassForesight::Fall::number);
    const PerGram gram = fall == foresight.falls.end() ? PerGram{} : fall->there.over_wood;
    d.lowest_hz = now.hz - gram.hz * foresight.wood_g;
    d.lowest_doubt_hz = base::plus_minus(std::hypot(now.sd_hz, gram.sd_hz * foresight.wood_g));
    d.least_mm = foresight.least_mm;
    d.deepest_mm = foresight.deepest_mm;
    return d.lowest_hz - d.lowest_doubt_hz > d.goal_hz;
}

/// By the model's sessions where it was asked, else by this one alone.
Level level_now(const ledger::SessionHistory& session, int number, const PassForesight* foresight) {
    if (foresight != nullptr)
        if (const auto now =
                std::ranges::find(foresight->levels, number, &PassForesight::Now::number);
            now != foresight->levels.end())
            return now->level;
    return level_of(find_mode(session.modes, number)->mode);
}

Decision towards(const Goal& goal, const TargetOutlook& outlook, const Level& now,
                 std::optional<double> mass_g, const PassForesight* foresight) {
    Decision d{.number = goal.number,
               .now_hz = now.hz,
               .goal_hz = goal.hz,
               .of_reference = goal.of_reference};
    d.doubt_hz = base::plus_minus(now.sd_hz);
    d.sessions = now.sessions;
    d.usual_pass_g = outlook.pass_g;
    d.past_it = outlook.past_it;
    d.grams = outlook.grams;
    d.passed = now.hz < goal.hz - d.doubt_hz;
    if (is_at(goal.hz, now)) {
        d.advice = Advice::stop;
        return d;
    }
    if (!mass_g) {
        d.advice = Advice::weigh;
        return d;
    }
    if (foresight != nullptr && is_out_of_reach(d, now, *foresight)) {
        d.advice = Advice::other_goal;
        d.by_model = true;
        return d;
    }
    d.advice = Advice::take;
    d.by_history = outlook.grams.has_value();
    double take_g =
        k_share_expected * *mass_g * (1.0 - std::pow(goal.hz / now.hz, 1.0 / k_worst_power));
    if (d.by_history)
        take_g = std::min(outlook.safe_g, k_share_expected * outlook.grams->value);
    d.take_g = pass_as_named(take_g);
    if (foresight != nullptr && outlook.by_model)
        d.take_g = take_at_the_place(d, *foresight, outlook);
    return d;
}

} // namespace

void take_word_of_model(std::span<TargetOutlook> outlooks, std::span<const Goal> goals,
                        const ledger::SessionHistory& session, const PassForesight& foresight) {
    if (!std::ranges::equal(foresight.goals, goals) || foresight.wood_g < k_least_pass_g)
        return;
    for (TargetOutlook& outlook : outlooks)
        for (const PassForesight::Fall& fall : foresight.falls)
            if (fall.number == outlook.number && fall.there.over_wood.sd_hz > 0.0 &&
                find_mode(session.modes, outlook.number) != nullptr)
                take_word_of_model(outlook, fall.there,
                                   level_now(session, outlook.number, &foresight));
}

bool asks_model(Advice advice) { return is_of_wood(advice) || advice == Advice::stop; }

bool is_of_wood(Advice advice) { return advice == Advice::take || advice == Advice::measure; }

std::vector<Goal> goals_of(const ledger::PlateHistory& history, const Comparison* comparison) {
    std::vector<Goal> goals;
    for (const ledger::TargetRecord& target : history.targets)
        goals.push_back({target.number, target.frequency_hz, false});
    if (!goals.empty() || comparison == nullptr || history.plate.part == modes::Part::body)
        return goals;
    for (const ComparedMode& mode : comparison->modes)
        if (mode.number && mode.reference && is_steering(*mode.number))
            goals.push_back({*mode.number, mode.reference->frequency_hz, true});
    return goals;
}

Decision decide(const Standing& now) {
    if (now.session == nullptr || accepted(*now.session) == 0)
        return {.advice = Advice::tap, .taps_wanted = k_least_taps, .spot = taps::Spot::centre};
    const ledger::TapRecord& last = now.session->taps.back();
    if (last.verdict == taps::Verdict::stranger) // before that is settled nothing is decided
        return {.advice = Advice::tap, .taps_wanted = 1, .spot = last.spot, .other_plate = true};
    const bool of_body = now.history->plate.part == modes::Part::body;
    std::vector<int> wanted;
    for (const Goal& goal : now.goals)
        wanted.push_back(goal.number);
    if (wanted.empty())
        wanted = of_body ? steered_by(now.history->plate.part) : std::vector{5, 2, 1};
    for (const int number : wanted)
        if (const auto more = taps_for(number, *now.session))
            return *more;
    const bool all_by_maker = std::ranges::all_of(
        wanted, [&](int number) { return find_mode(now.session->modes, number)->name->by_maker; });
    if (now.ask_spot && !all_by_maker) // what the maker named is not asked about
        return {.advice = Advice::tap,
                .taps_wanted = 1,
                .spot = *now.ask_spot,
                .by_hand = was_asked_in_vain(*now.ask_spot, *now.session)};
    if (now.goals.empty())
        return {.advice =
                    now.session->session.mass_g || of_body ? Advice::set_goal : Advice::weigh};
    // Of other goals the model said nothing.
    const PassForesight* foresight =
        now.foresight != nullptr && std::ranges::equal(now.foresight->goals, now.goals)
            ? now.foresight
            : nullptr;
    std::optional<Decision> first;
    for (std::size_t i = 0; i < now.goals.size(); ++i) {
        const Level level = level_now(*now.session, now.goals[i].number, foresight);
        const Decision one =
            towards(now.goals[i], now.outlooks[i], level, now.session->session.mass_g, foresight);
        const auto sooner = [](const Decision& a, const Decision& b) {
            if (a.passed != b.passed)
                return a.passed;
            if ((a.advice == Advice::stop) != (b.advice == Advice::stop))
                return a.advice == Advice::stop;
            if ((a.advice == Advice::other_goal) != (b.advice == Advice::other_goal))
                return a.advice == Advice::other_goal;
            return is_of_wood(a.advice) && is_of_wood(b.advice) && a.take_g < b.take_g;
        };
        if (!first || sooner(one, *first))
            first = one;
    }
    return *first;
}

} // namespace platewright::trends
