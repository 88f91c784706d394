#pragma once
#include <span>
#include <vector>

namespace platewright::modes {

/// What several measurements of one quantity agree on, when each has its own deviation and the
/// quantity itself differs from one to the next (the hold).
struct Consensus {
    double value = 0;
    double sd = 0;      ///< of value; an interval is value ± Student's quantile(n-1)·sd, n ≥ 2
    double between = 0; ///< standard deviation from one measurement to the next, fit's own left out
};

/// A variance seen with so many degrees of freedom, and what was held of it before, as much as so
/// many tell: their mean, weighted by the freedoms, of both together. Few values agree by luck;
/// this is what they leave of it. Source: G. K. Smyth, Stat. Appl. Genet. Mol. Biol. 3 (2004), from
/// memory: a moderated variance, the posterior mean of 1/variance under a scaled inverse chi-square
/// prior, inverted. In: freedoms >= 0, one of them above 0.
constexpr double moderated_variance(double seen, double freedom, double usual,
                                    double usual_freedom) {
    return (usual_freedom * usual + freedom * seen) / (usual_freedom + freedom);
}

/// What else is known of the scatter: as much as so many degrees of freedom tell.
struct UsualScatter {
    double between = 0; ///< of quantities alike, in this one's unit
    int freedom = 0;    ///< 0: nothing is known
};

/// Measurements of one of several quantities alike.
struct Measured {
    std::vector<double> values, sds;
    double unit = 1; ///< what `between` is counted in: that of all is a multiple of it
};

/// The deviation from one measurement to the next that quantities alike have in common, each in its
/// own unit: the pooled scatter at its expectation (Paule & Mandel over all of them). One that
/// scatters four times as much as it should does not count for more. 0 where none was measured
/// twice.
double between_of(std::span<const Measured> quantities);

/// Random-effects mean: weights 1/(sd² + between²), `between` from the scatter (Paule & Mandel
/// 1982, docs/sources.md#paule-mandel), sd from the weighted scatter (Hartung & Knapp 2001,
/// docs/sources.md#hartung-knapp), which makes Student's t intervals exact where the fits'
/// deviations are right up to a common factor. Three values can agree by luck, or one of them be
/// far too sure of itself: where the scatter of quantities alike is known, `between` and scatter
/// are their means, weighted by their degrees of freedom (G. K. Smyth, Stat. Appl. Genet. Mol.
/// Biol. 3, 2004, from memory: moderated_variance), and sd is scaled so that Student's
/// quantile (n-1) gives the interval of all the freedoms. In:   one or more values, sds of the same
/// size, all > 0. With one value its own sd is returned. Threads: any.
Consensus consensus(std::span<const double> values, std::span<const double> sds,
                    const UsualScatter& usual = {});

} // namespace platewright::modes
