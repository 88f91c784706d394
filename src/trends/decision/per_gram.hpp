#pragma once
#include <optional>

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
/// The grams that do so with this chance; 0 where it is as likely without any. Nothing where no
/// amount does.
std::optional<double> grams_to_chance(const Margin& margin, const PerGram& per_gram, double chance);

} // namespace platewright::trends
