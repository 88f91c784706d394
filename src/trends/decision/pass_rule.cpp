#include "trends/decision/pass_rule.hpp"

#include "base/interval.hpp"
#include "base/stats.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace platewright::trends {

namespace {

// By how much of it a gram's effect differs between the passes of a plate, as a standard deviation:
// a choice between what tests/speed/bench_decides.cpp prints for passes laid out alike and for such
// as go elsewhere each (docs/decisions/025).
constexpr double k_places_differ = 0.35;
// And by how much where the wood is meant to come off one way and comes off unevenly (ours: what
// that program's scraper does).
constexpr double k_uneven = 0.15;

} // namespace

PerGram joined(const PerGram& there, const PerGram& past) {
    const double of_there = there.sd_hz * there.sd_hz, places = k_places_differ * past.hz;
    double of_past = past.sd_hz * past.sd_hz + places * places;
    double quarrel = std::max(1.0, (there.hz - past.hz) * (there.hz - past.hz) /
                                       (of_there + of_past)); // chi-square
    if (past.hz < there.hz) {
        of_past += (quarrel - 1.0) * (of_there + of_past);
        quarrel = 1.0;
    }
    const double variance = 1.0 / (1.0 / of_there + 1.0 / of_past);
    return {variance * (there.hz / of_there + past.hz / of_past), std::sqrt(variance * quarrel)};
}

PerGram as_scraped(const PerGram& meant) {
    return {meant.hz, std::hypot(meant.sd_hz, k_uneven * meant.hz)};
}

PerGram FadingPerGram::over(double grams) const {
    constexpr double k_farthest = 2.0; // beyond that the straight line is no model's any more
    const double beyond = wood_g > 0.0 ? std::clamp(grams / wood_g - 1.0, -1.0, k_farthest) : 0.0;
    const double share = 1.0 - fades * beyond;
    return {share * over_wood.hz, share * over_wood.sd_hz};
}

double chance_below(const Margin& margin, const PerGram& per_gram, double grams) {
    const double over = margin.now_hz - per_gram.hz * grams - margin.least_hz;
    const double sd = std::hypot(margin.sd_hz, per_gram.sd_hz * grams);
    return 0.5 * std::erfc(over / (std::numbers::sqrt2 * sd));
}

double chance_as_said_pct(double chance) { return std::clamp(100.0 * chance, 1.0, 99.0); }

// Squared, the condition is a quadratic in the grams; the root is the one on the side of the
// expected amount that the chance names.
std::optional<double> grams_to_chance(const Margin& margin, const PerGram& per_gram,
                                      double chance) {
    const double z = base::normal_quantile(chance), gap = margin.now_hz - margin.least_hz;
    if (chance_below(margin, per_gram, 0.0) >= chance)
        return 0.0;
    const double s = per_gram.hz, v = per_gram.sd_hz * per_gram.sd_hz;
    const double rest = gap * gap - z * z * margin.sd_hz * margin.sd_hz;
    const double root =
        std::abs(z) * std::sqrt(std::max(0.0, s * s * margin.sd_hz * margin.sd_hz + v * rest));
    if (z <= 0.0) {
        const double denominator = s * gap + root;
        return denominator > 0.0 ? std::optional(rest / denominator) : std::nullopt;
    }
    const double leading = s * s - z * z * v;
    return s > 0.0 && leading > 0.0 ? std::optional((s * gap + root) / leading) : std::nullopt;
}

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
    const std::vector<Track> tracks = follow(until);
    std::vector<ModeNow> all;
    for (const ledger::ModeRecord& record : until.sessions.back().modes) {
        if (!record.name || record.name->number <= 0)
            continue;
        ModeNow one{record.name->number, level_of(record.mode), std::nullopt};
        if (const Track* track = find_track(tracks, one.number))
            if (const auto f = forecast(*track, until))
                one.own = PerGram{f->hz_per_g, f->hz_per_g_sd};
        all.push_back(one);
    }
    return all;
}

PerGram at_the_place(const PerGram& by_model, const std::optional<PerGram>& own) {
    return as_scraped(own ? joined(by_model, *own) : by_model);
}

WayToGoal way_to_goal(const Level& now, double goal_hz, const PerGram& there, double wood_g) {
    WayToGoal way{.beyond = {now.hz, now.sd_hz, goal_hz * (1.0 - k_hanging_anew)}};
    const Margin goal{now.hz, now.sd_hz, goal_hz};
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
