#pragma once
#include "modes/estimate/damped_model.hpp"
#include "modes/partial.hpp"

#include <vector>

namespace platewright::modes {

struct SearchParams {
    std::size_t most = 40; // components at the most
    int rounds = 4;        // looks at the residual for what the first look missed
    double offset = 0;     // what the channel's frequencies were lowered by, radians a sample
};

/// Finds how many damped sinusoids ring and fits them all. Starts: subspace poles around spectral
/// peaks; then what stands out of the residual is added, and what the evidence does not carry is
/// taken out, until neither happens. A component costs its four numbers and the search for it: it
/// must lower the residual energy by 4 ln N noise variances (Bayes information criterion, Schwarz
/// 1978, docs/sources.md#schwarz). Neighbours nearer than k_one_mode become one where one tells
/// nearly all that they did; what is left then says how unsure it is of its place
/// (Component::joined).
/// In:   white samples of variance one plus signal; steady lines, if known, as start values.
/// Out:  the fit; steady lines keep their places at the front.
/// Cost: 1 to 5 ms for 5000 samples and 15 components.  Threads: any.
DampedFit search_components(const Stretches& data, const std::vector<Component>& lines,
                            const SearchParams& params = {});

/// Sinusoids that stand in a stretch without decaying: mains hum, a fridge. Their amplitudes refer
/// to the stretch's first sample.
std::vector<Component> find_steady_lines(const std::vector<double>& quiet);

/// Two components' distance in their mean width at -3 dB, which is 0 for twins. Both must decay.
double nearness(const Component& a, const Component& b);

/// Nearer than this two components are one mode, where one of them tells nearly all that both do.
/// Two modes 6 Hz apart at 300 Hz and Q 60 stand 1.2 apart.
inline constexpr double k_one_mode = 0.75;

/// Whether it dies too soon to be a mode (k_least_mode_q). `offset`: as in SearchParams.
bool is_thump(const Component& c, double offset);

/// Whether a dies three times as fast as b or faster: once b is 9 dB down, a is 17 dB down beside
/// it and leaves the rest of the ring to it. So it is no twin of b, however near: a hammer's thump
/// is so broad that every low mode lies within its width. Both must decay.
bool dies_much_sooner(const Component& a, const Component& b);

/// Energy the residual would gain without component i, in noise variances (Wald's statistic).
double evidence(const DampedFit& fit, std::size_t i);

} // namespace platewright::modes
