#pragma once
#include "ledger/record.hpp"
#include "trends/drift/drift.hpp"
#include "trends/drift/repeatability.hpp"

#include <optional>
#include <vector>

namespace platewright::trends {

/// How far a mode falls for a gram taken off, with its standard deviation; both in Hz.
struct PerGram {
    double hz = 0;
    double sd_hz = 0;
};

/// What a model says of the place where the wood is to come off, and what past passes tell, whose
/// grams came off elsewhere, as one: weighted by their inverse variances, the past the less sure by
/// what places differ. Where they are further apart than all that allows:
/// the past's gram does less: so it does off places that tell less, and a plan is laid where a gram
/// tells most. The two themselves say then how far the places differ (method of moments: R.
/// DerSimonian, N. Laird, Controlled Clinical Trials 7, 1986, 177, from memory): the past weighs
/// less, the model's word stands.
/// The past's gram does more: no place explains that, so either may be wrong, and the deviation
/// grows by the root of chi-square over its one degree (R. T. Birge, Phys. Rev. 40, 1932, 207; the
/// Particle Data Group's scale factor; both from memory).
PerGram joined(const PerGram& there, const PerGram& past);

/// What is meant and what is scraped differ: the same, less surely.
PerGram as_scraped(const PerGram& meant);

/// A gram's effect as mean over the wood that a model would take. With twice as much wood at the
/// same place a gram does less, by the part `fades`: hollows go deeper where they told most.
struct FadingPerGram {
    PerGram over_wood;
    double wood_g = 0;
    double fades = 0;

    /// The mean over so many grams; it fades no further than three times the wood.
    PerGram over(double grams) const;
};

/// A mode as measured, with its deviation, and what it must not fall below.
struct Margin {
    double now_hz = 0;
    double sd_hz = 0;
    double least_hz = 0;
};
/// The chance that so many grams take the mode below; normal deviations, independent.
double chance_below(const Margin& margin, const PerGram& per_gram, double grams);
/// A chance in whole per cent as it is said: from 1 to 99, for what is forecast is never certain.
double chance_as_said_pct(double chance);
/// The grams that do so with this chance; 0 where it is as likely without any. Nothing where no
/// amount does.
std::optional<double> grams_to_chance(const Margin& margin, const PerGram& per_gram, double chance);

inline constexpr double k_least_pass_g = 0.1; ///< below this no scraper stops, nor scales tell

/// The grams of a pass as they are named: in tenths, downwards, and not below the least.
double pass_as_named(double grams);

/// A named mode as it was tapped last, and what the plate's own weighed sessions say that a gram
/// does to it; nothing where they are too few (forecast()).
struct ModeNow {
    int number = 0;
    Level level; ///< by this session; a model carries the earlier ones on (carried_levels)
    std::optional<PerGram> own;
};

/// Of a session of the history, by it and those before. Threads: pure.
std::vector<ModeNow> modes_now(const ledger::PlateHistory& history, std::size_t session);

/// What a gram does where the model would take it: by the model's word on the place, joined with
/// the plate's own sessions (joined()); as it will be scraped.
PerGram at_the_place(const PerGram& by_model, const std::optional<PerGram>& own);

/// The way of one mode to its goal by wood off that place.
struct WayToGoal {
    std::optional<Interval> grams; ///< until the goal is measured; nothing: they don't lead there
    double safe_g = 0;             ///< with little chance to go beyond it
    double pass_g = 0;             ///< of the next pass, in tenths of a gram
    Margin beyond;                 ///< beyond the goal by more than hanging a plate anew may do
};

/// The one rule for the next pass where the place is known; plan, bench, paper and terminal name
/// these grams. Four fifths of what is expected to be left, at most what passes the goal with a
/// chance of 2.5 %, at most all of the wood that the model would take (docs/decisions/025).
WayToGoal way_to_goal(const Level& now, double goal_hz, const PerGram& there, double wood_g);

} // namespace platewright::trends
