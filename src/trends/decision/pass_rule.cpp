#include "trends/decision/pass_rule.hpp"

#include "base/interval.hpp"
#include "trends/drift/session_spread.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace platewright::trends {
namespace {

constexpr double k_tail = 0.5 * (1.0 - base::k_coverage); // either side of an interval
// The chance to go beyond a goal that a pass leaves, and its part of what is left (ours; what they
// come to is measured: docs/decisions/025).
constexpr double k_unsafe_there = 0.025, k_share_of_rest = 0.8;

} // namespace

double pass_as_named(double grams) {
    constexpr double k_rounding = 1e-6; // a tenth that is short by it alone is whole
    return std::max(k_least_pass_g, std::floor(10.0 * grams + k_rounding) / 10.0);
}

std::vector<ModeNow> modes_now(const ledger::PlateHistory& history, std::size_t session) {
    ledger::PlateHistory until = history;
    until.sessions.resize(session + 1);
    const Drift drifted = drift(until);
    std::vector<ModeNow> all;
    for (const ledger::ModeRecord& record : until.sessions.back().modes) {
        if (!record.name || record.name->number <= 0)
            continue;
        ModeNow one{record.name->number, record.mode, std::nullopt};
        for (const TrackDrift& track : drifted.tracks)
            if (track.track.name && track.track.name->number == one.number)
                if (const auto f = forecast(track.track, until))
                    one.own = PerGram{f->hz_per_g, f->hz_per_g_sd};
        all.push_back(one);
    }
    return all;
}

PerGram at_the_place(const PerGram& by_model, const std::optional<PerGram>& own) {
    return as_scraped(own ? joined(by_model, *own) : by_model);
}

WayToGoal way_to_goal(const modes::Mode& now, double goal_hz, const PerGram& there, double wood_g) {
    const double sd_hz = session_sd_hz(now);
    WayToGoal way{.beyond = {now.frequency_hz, sd_hz, goal_hz * (1.0 - k_hanging_anew)}};
    const Margin goal{now.frequency_hz, sd_hz, goal_hz};
    way.safe_g =
        grams_to_chance(way.beyond, there, k_unsafe_there).value_or(wood_g); // it hardly moves
    const auto rest = grams_to_chance(goal, there, 0.5);
    const auto least = grams_to_chance(goal, there, k_tail),
               most = grams_to_chance(goal, there, 1.0 - k_tail);
    if (rest && least)
        way.grams = Interval{*rest, *least, most.value_or(std::numeric_limits<double>::infinity())};
    way.pass_g =
        pass_as_named(std::min({way.safe_g, rest ? k_share_of_rest * *rest : wood_g, wood_g}));
    return way;
}

} // namespace platewright::trends
