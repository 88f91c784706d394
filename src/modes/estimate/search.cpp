#include "modes/estimate/search.hpp"

#include "modes/estimate/candidates.hpp"
#include "modes/estimate/subspace.hpp"
#include "modes/signal/spectrum.hpp"

#include <Eigen/Dense>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <utility>

namespace platewright::modes {
namespace {

using std::numbers::pi;
using Complex = std::complex<double>;

double price_of_component(std::size_t samples) {
    return 4.0 * std::log(static_cast<double>(samples));
}

/// Neighbouring peaks are looked at in one band, so that each band's poles are told apart jointly.
struct Group {
    double low = 0;
    double high = 0;
    int peaks = 0;
};

std::vector<Group> group(std::vector<Candidate> candidates, double margin) {
    std::sort(candidates.begin(), candidates.end(),
              [](const Candidate& a, const Candidate& b) { return a.angle < b.angle; });
    std::vector<Group> groups;
    for (const Candidate& c : candidates) {
        // A wide peak needs a wide band to be seen as one.
        const double reach = std::max(margin, 6.0 * c.decay);
        const bool joins = !groups.empty() && c.angle - reach < groups.back().high - 0.5 * reach &&
                           c.angle - groups.back().low < 6.0 * reach;
        if (joins) {
            groups.back().high = std::max(groups.back().high, c.angle + reach);
            ++groups.back().peaks;
        } else {
            groups.push_back({c.angle - reach, c.angle + reach, 1});
        }
    }
    return groups;
}

bool near_any(const std::vector<Component>& components, const Candidate& c, double factor,
              std::size_t samples) {
    return std::any_of(components.begin(), components.end(), [&](const Component& known) {
        const Candidate wide{c.angle, c.decay - known.pole.real(), 0.0};
        return std::abs(known.pole.imag() - c.angle) < factor * resolution(wide, samples);
    });
}

std::vector<Component> starts(const Stretches& data, const std::vector<Component>& lines,
                              std::size_t most) {
    std::vector<Component> found = lines;
    const std::vector<double> signal = data.ring;
    const auto candidates = find_candidates(signal, price_of_component(signal.size()), most);
    constexpr double margin = 0.02; // 25 Hz at 8 kHz
    for (const Group& g : group(candidates, margin)) {
        const double low = std::max(g.low, 0.0);
        const SubBand band{0.5 * (low + g.high), 0.5 * (g.high - low)};
        for (const Complex& pole : subspace_poles(signal, band, g.peaks + 2)) {
            const Candidate as_candidate{pole.imag(), 0.0, 0.0};
            // Poles by the band's edges are the flanks of what lies outside.
            const bool wanted =
                std::any_of(candidates.begin(), candidates.end(), [&](const auto& c) {
                    return std::abs(c.angle - pole.imag()) < std::max(0.5 * margin, 3.0 * c.decay);
                });
            if (!wanted)
                continue;
            const bool known = std::any_of(found.begin(), found.end(), [&](const Component& c) {
                return std::abs(c.pole - pole) < 0.5 * resolution(as_candidate, signal.size());
            });
            if (!known && found.size() < most)
                found.push_back({pole, {}, false});
        }
    }
    for (const Candidate& c : candidates) {
        if (found.size() < most && !near_any(found, c, 1.0, signal.size())) {
            found.push_back({{-c.decay, c.angle}, {}, false});
        }
    }
    return found;
}

/// Level of the residual's spectral floor: its median, which what is not fitted yet does not lift.
double floor_variance(const std::vector<double>& residual) {
    RealTransform transform(fast_length(residual.size()));
    std::vector<double> power;
    for (const auto& bin : transform.transform(residual)) {
        power.push_back(static_cast<double>(std::norm(bin)));
    }
    const auto middle = power.begin() + static_cast<long>(power.size() / 2);
    std::nth_element(power.begin(), middle, power.end());
    return *middle / std::numbers::ln2 / static_cast<double>(residual.size());
}

/// Adds what stands out of the residual; false when nothing does.
bool add_from_residual(const Stretches& data, std::vector<Component>& components,
                       std::size_t most) {
    const auto residual = ring_residual(data, components);
    const double least =
        std::max(1.0, floor_variance(residual)) * price_of_component(residual.size());
    bool added = false;
    for (const Candidate& c : find_candidates(residual, least, 8)) {
        if (components.size() >= most)
            break;
        components.push_back({{-c.decay, c.angle}, {}, false});
        added = true;
    }
    return added;
}

double noise_variance(const Stretches& data, const DampedFit& fit) {
    const double samples = static_cast<double>(data.ring.size() + data.before.size());
    const double freedom = samples - static_cast<double>(fit.inverse.rows());
    return std::max(1e-12, fit.residual_energy / std::max(1.0, freedom));
}

/// Whether a pole has strayed to where a sinusoid is none: its amplitude and energy mean nothing
/// there.
bool is_degenerate(const Component& c) { return c.pole.imag() < 1e-4 || c.pole.imag() > pi - 1e-4; }

/// Takes out the component with the least evidence, if it is below its price, and with it all that
/// fall short by far. Of twins, each of which could go because the other tells the same, one goes.
bool prune(DampedFit& fit, double price) {
    struct Weighed {
        double weight = 0;
        std::size_t index = 0;
    };
    std::vector<Weighed> all;
    for (std::size_t i = 0; i < fit.components.size(); ++i) {
        all.push_back({is_degenerate(fit.components[i]) ? 0.0 : evidence(fit, i), i});
    }
    std::sort(all.begin(), all.end(),
              [](const Weighed& a, const Weighed& b) { return a.weight < b.weight; });
    if (all.empty() || all.front().weight >= price)
        return false;
    const double far_short = std::max(all.front().weight, 0.3 * price);
    std::vector<std::size_t> gone;
    for (const Weighed& one : all) {
        if (one.weight > far_short)
            break;
        const Complex here = fit.components[one.index].pole;
        const bool is_twin = std::any_of(gone.begin(), gone.end(), [&](std::size_t k) {
            const Complex other = fit.components[k].pole;
            return std::abs(here.imag() - other.imag()) <
                   2.0 * std::abs(here.real() + other.real());
        });
        if (!is_twin)
            gone.push_back(one.index);
    }
    std::sort(gone.begin(), gone.end(), std::greater<>());
    for (const std::size_t i : gone)
        fit.components.erase(fit.components.begin() + static_cast<std::ptrdiff_t>(i));
    return true;
}

/// How unsure the angle of one that stands for two is. Of equals it lies halfway between: three
/// quarters of their distance are a deviation whose intervals hold both, of one tap and of some
/// taps' mean; a weak one draws it less, and one that dies much sooner only at first.
double doubt_of_joined(const std::vector<Component>& components, std::size_t stronger,
                       std::size_t weaker) {
    constexpr double of_distance = 0.75;
    const Component& a = components[stronger];
    const Component& b = components[weaker];
    if (dies_much_sooner(b, a))
        return 0.0;
    const double of_a = std::sqrt(ring_energy(a)), of_b = std::sqrt(ring_energy(b));
    return of_distance * 2.0 * of_b / std::max(1e-300, of_a + of_b) *
           (std::abs(a.pole.imag() - b.pole.imag()) + b.joined);
}

/// Joins the closest pair that lies within its own widths, where one pole tells nearly all that the
/// two did; false when there is none. A tone that glides while it dies (a bar over its resonator, a
/// grip that tightens) is met by several poles a fraction of their width apart: as numbers they are
/// right, as modes they are one.
/// A thump is no part of a tone: where all is told but for noise it stays, for what it would leave
/// passes for a room that answers; where a room does answer it tells of that.
bool join_neighbours(const Stretches& data, DampedFit& fit, double offset) {
    constexpr double untold = 0.03;   // of the pair's energy
    constexpr double of_untold = 0.3; // of what both leave untold, where one is a thump
    struct Pair {
        std::size_t weaker = 0, stronger = 0;
        double apart = 0, most = 0;
    };
    std::vector<Pair> pairs;
    for (std::size_t i = 0; i < fit.components.size(); ++i) {
        for (std::size_t k = i + 1; k < fit.components.size(); ++k) {
            const Component& a = fit.components[i];
            const Component& b = fit.components[k];
            // What does not decay is a line, however near, and never part of a mode.
            if (!(a.pole.real() < 0.0) || !(b.pole.real() < 0.0) || is_degenerate(a) ||
                is_degenerate(b))
                continue;
            const double apart = nearness(a, b);
            if (apart < k_one_mode) {
                // Two that all but cancel are large each, and no measure of what they tell
                // together.
                const double of_a = ring_energy(a), of_b = ring_energy(b);
                const double product =
                    (a.amplitude * std::conj(b.amplitude) / -(a.pole + std::conj(b.pole))).real();
                double most = untold * (of_a + of_b + product);
                if (is_thump(a, offset) || is_thump(b, offset))
                    most = std::min(most, of_untold * fit.residual_energy);
                pairs.push_back({of_a < of_b ? i : k, of_a < of_b ? k : i, apart, most});
            }
        }
    }
    std::sort(pairs.begin(), pairs.end(),
              [](const Pair& a, const Pair& b) { return a.apart < b.apart; });
    for (const Pair& pair : pairs) {
        std::vector<Component> fewer = fit.components;
        fewer[pair.stronger].joined = std::hypot(
            fewer[pair.stronger].joined, doubt_of_joined(fewer, pair.stronger, pair.weaker));
        fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(pair.weaker));
        DampedFit joined = fit_damped(data, fewer);
        const bool strayed =
            std::any_of(joined.components.begin(), joined.components.end(), is_degenerate);
        if (!strayed && joined.residual_energy - fit.residual_energy < pair.most) {
            fit = std::move(joined);
            return true;
        }
    }
    return false;
}

} // namespace

double nearness(const Component& a, const Component& b) {
    return std::abs(a.pole.imag() - b.pole.imag()) / (-a.pole.real() - b.pole.real());
}

bool is_thump(const Component& c, double offset) {
    return offset + c.pole.imag() < 2.0 * k_least_mode_q * -c.pole.real();
}

bool dies_much_sooner(const Component& a, const Component& b) {
    constexpr double times = 3.0;
    return -a.pole.real() > times * -b.pole.real();
}

double evidence(const DampedFit& fit, std::size_t i) {
    const Component& c = fit.components[i];
    const auto at = fit.first_parameter[i];
    const Eigen::Matrix2d spread = fit.inverse.block<2, 2>(at, at);
    const Eigen::Vector2d amplitude{c.amplitude.real(), c.amplitude.imag()};
    return amplitude.dot(spread.inverse() * amplitude);
}

DampedFit search_components(const Stretches& data, const std::vector<Component>& lines,
                            const SearchParams& params) {
    // While components are missing there is no use in the last digits.
    constexpr DampedFitParams rough{.max_steps = 8, .enough = 1.0};
    DampedFit fit = fit_damped(data, starts(data, lines, params.most), rough);
    for (int round = 0; round < params.rounds; ++round) {
        std::vector<Component> more = fit.components;
        if (!add_from_residual(data, more, params.most))
            break;
        fit = fit_damped(data, more, rough);
    }
    // Half the price: Wald's statistic pays for the pole's own uncertainty a second time.
    const double price = 0.5 * price_of_component(data.ring.size());
    for (std::size_t tries = params.most; tries > 0; --tries) {
        if (!prune(fit, price * noise_variance(data, fit)))
            break;
        fit = fit_damped(data, fit.components, rough);
    }
    fit = fit_damped(data, fit.components);
    while (join_neighbours(data, fit, params.offset)) {
    }
    return fit;
}

std::vector<Component> find_steady_lines(const std::vector<double>& quiet) {
    if (quiet.size() < 64)
        return {};
    const Stretches data{quiet, {}, 0};
    DampedFit fit = search_components(data, {}, {.most = 24, .rounds = 2});
    const double noise = noise_variance(data, fit);
    std::vector<Component> lines;
    for (std::size_t i = 0; i < fit.components.size(); ++i) {
        const auto at = fit.first_parameter[i] + 2;
        const double decay = -fit.components[i].pole.real();
        const double deviation = std::sqrt(noise * fit.inverse(at, at));
        // The last tap's remains decay too: they are no line, and the same poles ring on anyway.
        if (decay > 3.0 * deviation && decay * static_cast<double>(quiet.size()) > 0.5)
            continue;
        Component line = fit.components[i];
        line.pole = {0.0, line.pole.imag()};
        line.steady = true;
        lines.push_back(line);
    }
    return lines;
}

} // namespace platewright::modes
