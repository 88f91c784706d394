#include "trends/decision/outlook.hpp"

#include "base/stats.hpp"
#include "trends/decision/pass_rule.hpp"
#include "trends/drift/repeatability.hpp"
#include "trends/drift/robust_line.hpp"
#include "trends/track/track.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::trends {

std::vector<int> steered_by(modes::Part part) {
    return part == modes::Part::body ? std::vector{modes::k_a0, modes::k_b1_minus, modes::k_b1_plus}
                                     : std::vector<int>(k_steering.begin(), k_steering.end());
}

namespace {

using wording::figure;
using wording::say;

constexpr double k_unsafe = 0.10; // the chance to go beyond a target that a safe pass leaves
constexpr double k_worth_a_word = 0.2;

double usual_pass_g(const ledger::PlateHistory& history) {
    constexpr std::size_t k_newest = 3;
    std::vector<double> passes;
    std::optional<double> after;
    for (auto it = history.sessions.rbegin(); it != history.sessions.rend(); ++it) {
        const auto& mass = it->session.mass_g;
        if (mass && after && *mass > *after && passes.size() < k_newest)
            passes.push_back(*mass - *after);
        if (mass)
            after = mass;
    }
    return passes.empty() ? 1.0 : base::median(passes);
}

/// What has come off while the track's sessions of the plate's present shape were weighed.
double seen_to_go_g(const Track& track, const ledger::PlateHistory& history, double now_g) {
    const auto shape_in = [&](const ledger::SessionHistory& one) {
        return shape_of(history.plate.part, one.session.stage);
    };
    double heaviest_g = now_g;
    for (const TrackPoint& point : track.points)
        if (const ledger::SessionHistory& one = history.sessions[point.session];
            one.session.mass_g && shape_in(one) == shape_in(history.sessions.back()))
            heaviest_g = std::max(heaviest_g, *one.session.mass_g);
    return heaviest_g - now_g;
}

} // namespace

std::vector<TargetOutlook> target_outlooks(const ledger::PlateHistory& history, const Drift& drift,
                                           std::span<const Goal> goals,
                                           std::optional<double> pass_g) {
    std::vector<TargetOutlook> outlooks;
    for (const Goal& goal : goals) {
        TargetOutlook one{.number = goal.number, .target_hz = goal.hz};
        one.pass_g = pass_g.value_or(usual_pass_g(history));
        const TrackDrift* found = find_track(drift, goal.number);
        if (found != nullptr)
            one.now_hz = found->track.points.back().value.frequency_hz;
        if (const auto& f = found != nullptr ? found->forecast : std::nullopt) {
            one.per_gram = PerGram{f->hz_per_g, f->hz_per_g_sd};
            one.grams = grams_to(*f, goal.hz);
            const bool falls = f->line.slope() > 0.0;
            const double beyond = std::log(goal.hz) + (falls ? -k_hanging_anew : k_hanging_anew);
            one.passed = falls ? std::log(f->hz) < beyond : std::log(f->hz) > beyond;
            // A line is followed no further than it is long: of three sessions two grams apart one
            // said that 28 g were safe (bench_decides, seed 2005).
            one.safe_g = std::min(amount_to_reach(f->line, f->mass_g, beyond, k_unsafe),
                                  seen_to_go_g(found->track, history, f->mass_g));
            if (one.pass_g < f->mass_g)
                one.past_it = chance_past(f->line, f->mass_g - one.pass_g, beyond);
        }
        outlooks.push_back(one);
    }
    return outlooks;
}

void take_word_of_model(TargetOutlook& o, const FadingPerGram& there, const Level& now) {
    const WayToGoal way = way_to_goal(now, o.target_hz, there.over_wood, there.wood_g);
    o.by_model = true;
    // It is told by the next session, which hangs the plate anew once more.
    Margin next = way.beyond;
    next.sd_hz = std::hypot(next.sd_hz, k_hold_share * now.hz);
    o.past_it = chance_below(next, there.over(o.pass_g), o.pass_g);
    o.safe_g = way.safe_g;
    o.grams = way.grams;
    o.next_g = way.pass_g;
}

std::string warning_of(const TargetOutlook& o) {
    const std::string mode = modes::mode_text(o.number);
    if (o.passed)
        return say("{} is beyond its target of {} Hz already; more wood off leads further away.",
                   mode, figure(o.target_hz, 1));
    if (!o.past_it || *o.past_it < k_worth_a_word)
        return {};
    return say("A pass of {} g would take {} beyond its target of {} Hz with a chance of {} %: "
               "wood taken off can't be put back.",
               figure(o.pass_g, 1), mode, figure(o.target_hz, 1),
               figure(chance_as_said_pct(*o.past_it), 0));
}

} // namespace platewright::trends
