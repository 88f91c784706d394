#include "modes/ring/reverberation.hpp"

#include "base/stats.hpp"
#include "modes/estimate/search.hpp"
#include "modes/signal/spectrum.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <numeric>

namespace platewright::modes {
namespace {

using Complex = std::complex<double>;
using std::numbers::pi;

// Set on simulated rooms that docs/estimation-results.md does not report (speed_rooms, seed 71000);
// each has a case of its own in tests/modes/reverberation_test.cpp.
constexpr double k_least_left =
    5e-4;                        // of the direct sound: what a fit leaves without a room is a fifth
constexpr double k_trusted = 30; // over the reverberation, for a mode to tell of the room
constexpr double k_stands_out = 10;      // the same, for it to be one: an exponential variable's
                                         // largest of thousands
constexpr double k_stands_out_near = 60; // beside a stronger one, which the room splits in two
constexpr double k_near = 5;             // beside: in mean widths at -3 dB

constexpr double k_of_frequency =
    1.1; // what one pole's least squares is off, over the first order (reverberation_test)

constexpr double k_strong = 1e-3; // of the strongest one's energy, for a mode to tell of the room

constexpr double k_block_hz = 8;        // a room's response changes over some Hz
constexpr double k_seen = 100;          // direct sound over noise, for a block to tell of a room
constexpr double k_tells = 10;          // the same, and
constexpr double k_of_strongest = 3e-4; // of the strongest block's, for it to tell how much: the
                                        // same blocks, however loud the noise
constexpr double k_least_t60_s = 0.2;   // the driest of listening rooms (docs/sources.md#ebu-3276):
                                        // what dies sooner is what the fit leaves of the plate
constexpr std::size_t k_fewest_blocks = 12;
constexpr std::ptrdiff_t k_fewest_groups = 4; // strong modes, for a room to be told by
constexpr double k_median_of_block = 0.84;    // of the mean of two exponential variables
constexpr int k_rounds = 4;

bool is_ringing(const Component& c, const RoomSamples& samples) {
    return !c.steady && c.pole.real() < 0 && c.pole.imag() > samples.low &&
           c.pole.imag() < samples.high;
}

/// Power spectrum of a component's own ring, from the ring's first sample on.
double ring_power(const Component& c, double angle) {
    return 0.25 * std::norm(c.amplitude) / std::norm(1.0 - std::exp(c.pole - Complex(0, angle)));
}

/// Of the contact's samples without what one component carried back to them gives, at that one's
/// angle.
double contact_power_beside(std::span<const double> contact, const Component& own) {
    const Complex turn = std::polar(1.0, own.pole.imag());
    Complex sum, here = turn; // e^{-j angle n} at n = -1
    for (std::size_t k = contact.size(); k-- > 0; here *= turn)
        sum += contact[k] * here;
    // Σ_{n=-m}^{-1} (c/2) e^{δ |n|}
    const double decay = -own.pole.real(), m = static_cast<double>(contact.size());
    return std::norm(sum - 0.5 * own.amplitude * std::expm1(decay * m) / -std::expm1(-decay));
}

struct Power {
    std::vector<double> over_noise; // by bin
    double bin = 0;                 // radians a sample
};

Power power_of(std::span<const double> samples) {
    RealTransform transform(fast_length(samples.size()));
    Power power{{}, 2 * pi / static_cast<double>(transform.length())};
    for (const auto& bin : transform.transform(samples))
        power.over_noise.push_back(static_cast<double>(std::norm(bin)) /
                                   static_cast<double>(samples.size()));
    return power;
}

/// The band in blocks, and the direct sound in each of them.
class DirectSound {
public:
    DirectSound(const RoomSamples& samples, const std::vector<Component>& components)
        : noise_(static_cast<double>(samples.left.size())) {
        constexpr std::size_t length = 1024; // the contact's spectrum changes over 100 Hz
        const double width = 2 * pi * k_block_hz / samples.rate_hz;
        RealTransform transform(fast_length(std::max(length, samples.contact.size())));
        const auto bins = transform.transform(samples.contact);
        const double step = 2 * pi / static_cast<double>(transform.length());
        for (double from = samples.low; from + width < std::min(samples.high, pi); from += width) {
            const double angle = from + 0.5 * width;
            blocks_.push_back({from, from + width, {}});
            const auto contact =
                static_cast<double>(std::norm(bins[static_cast<std::size_t>(angle / step)]));
            blocks_.back().power.push_back(contact);
            for (const Component& c : components)
                blocks_.back().power.push_back(is_ringing(c, samples) ? ring_power(c, angle) : 0);
        }
    }
    /// Median over the blocks of what is left, less the noise, over the contact and these
    /// components; 0 where too few stand out of the noise.
    double share_left(const Power& power, const std::vector<bool>& counts) const {
        std::vector<double> ratios;
        for (const Ratio& ratio : ratios_of(power, counts, k_tells, k_of_strongest))
            ratios.push_back(ratio.of_direct);
        return ratios.size() < k_fewest_blocks
                   ? 0
                   : std::max(0.0, base::median(ratios) / k_median_of_block);
    }
    /// Whether what the fit leaves follows most of what sounds, not one mode that glides. group: of
    /// the contact, and of each component.
    bool follows_most(const Power& power, const std::vector<std::size_t>& group) const {
        std::map<std::size_t, std::vector<double>> by_group;
        for (const Ratio& ratio :
             ratios_of(power, std::vector<bool>(group.size() - 1, true), k_seen, 0))
            if (group[ratio.strongest] > 0)
                by_group[group[ratio.strongest]].push_back(ratio.of_direct);
        const auto following = std::ranges::count_if(
            by_group, [](const auto& one) { return base::median(one.second) > k_least_left; });
        return following >= k_fewest_groups && 2 * following > std::ssize(by_group);
    }

private:
    struct Ratio {
        double of_direct = 0;
        std::size_t strongest = 0; // 0: the contact; else one more than the component's index
    };
    std::vector<Ratio> ratios_of(const Power& power, const std::vector<bool>& counts,
                                 double least_over_noise, double least_of_strongest) const {
        std::vector<Ratio> ratios;
        std::vector<double> directs;
        for (const Block& block : blocks_) {
            double direct = block.power[0];
            for (std::size_t i = 1; i < block.power.size(); ++i)
                direct += counts[i - 1] ? block.power[i] : 0;
            directs.push_back(direct);
        }
        const double least =
            std::max(least_over_noise * noise_,
                     directs.empty() ? 0 : least_of_strongest * std::ranges::max(directs));
        for (std::size_t b = 0; b < blocks_.size(); ++b) {
            const Block& block = blocks_[b];
            Ratio ratio;
            for (std::size_t i = 1; i < block.power.size(); ++i)
                if (counts[i - 1] && block.power[i] > block.power[ratio.strongest])
                    ratio.strongest = i;
            const auto first = static_cast<std::size_t>(block.from / power.bin),
                       last = static_cast<std::size_t>(block.to / power.bin);
            if (directs[b] < least || last <= first || last > power.over_noise.size())
                continue;
            const auto left = std::span{power.over_noise}.subspan(first, last - first);
            const double mean =
                std::accumulate(left.begin(), left.end(), 0.0) / static_cast<double>(left.size());
            ratio.of_direct = (mean - 1) * noise_ / directs[b];
            ratios.push_back(ratio);
        }
        return ratios;
    }
    struct Block {
        double from = 0, to = 0;
        std::vector<double> power; // the contact's, then each component's
    };
    double noise_;
    std::vector<Block> blocks_;
};

/// What is left, and with it the components that are not trusted.
std::vector<double> untold(const RoomSamples& samples, const std::vector<Component>& components,
                           const std::vector<bool>& trusted) {
    std::vector<Component> back;
    for (std::size_t i = 0; i < components.size(); ++i)
        if (!trusted[i] && is_ringing(components[i], samples)) {
            back.push_back(components[i]);
            back.back().amplitude *= -1.0;
        }
    return ring_residual({{samples.left.begin(), samples.left.end()}, {}, 0}, back);
}

/// How far each component stands out of what a room of share one makes of the contact and of all
/// that is stronger: heights of peaks, as powers.
std::vector<double> heights(const RoomSamples& samples, const std::vector<Component>& components) {
    std::vector<double> out;
    for (const Component& c : components) {
        if (!is_ringing(c, samples)) {
            out.push_back(0);
            continue;
        }
        double direct = contact_power_beside(samples.contact, c);
        for (const Component& other : components)
            if (&other != &c && is_ringing(other, samples) && ring_energy(other) > ring_energy(c))
                direct += ring_power(other, c.pole.imag());
        out.push_back(ring_power(c, c.pole.imag()) / std::max(1e-30, direct));
    }
    return out;
}

/// The strongest of those beside a component that are stronger; itself where it is the strongest.
std::size_t stronger_beside(std::size_t i, const std::vector<Component>& components,
                            const RoomSamples& samples) {
    std::size_t strongest = i;
    for (std::size_t k = 0; k < components.size(); ++k)
        if (k != i && is_ringing(components[k], samples) && is_ringing(components[i], samples) &&
            ring_energy(components[k]) > ring_energy(components[strongest]) &&
            nearness(components[k], components[i]) < k_near)
            strongest = k;
    return strongest;
}

/// Of each component, after the contact's: what lies beside something stronger goes with it; none
/// (0) of the contact and of what is weak.
std::vector<std::size_t> groups_of(const std::vector<Component>& components,
                                   const RoomSamples& samples) {
    double most = 0;
    for (const Component& c : components)
        most = std::max(most, is_ringing(c, samples) ? ring_energy(c) : 0);
    std::vector<std::size_t> groups{0};
    for (std::size_t i = 0; i < components.size(); ++i) {
        std::size_t at = i;
        for (std::size_t next = stronger_beside(at, components, samples); next != at;
             next = stronger_beside(at, components, samples))
            at = next;
        groups.push_back(is_ringing(components[at], samples) &&
                                 ring_energy(components[at]) > k_strong * most
                             ? at + 1
                             : 0);
    }
    return groups;
}

/// Half the slope of a line through the logarithm of the backward integral, from 3 to 18 dB down: a
/// tap pushes a room less hard than the shots that ISO 3382-1 evaluates from 5 to 35 dB. Of what
/// sounds above 400 Hz, where plates die sooner than rooms; 0 where that is too short to tell.
double decay_per_s_of(std::span<const double> untold, double rate_hz) {
    constexpr double frame_s = 0.032, from_hz = 400, from = 0.5, to = 0.016;
    RealTransform transform(fast_length(static_cast<std::size_t>(frame_s * rate_hz)));
    const std::size_t frame = transform.length(), hop = frame / 2;
    const auto first = static_cast<std::size_t>(from_hz / rate_hz * static_cast<double>(frame));
    std::vector<double> energy;
    for (std::size_t at = 0; at + frame <= untold.size(); at += hop) {
        double sum = 0;
        for (const auto& bin : transform.transform(untold.subspan(at, frame)).subspan(first))
            sum += static_cast<double>(std::norm(bin)) - static_cast<double>(frame);
        energy.push_back(sum);
    }
    std::partial_sum(energy.rbegin(), energy.rend(), energy.rbegin());
    double count = 0, t_sum = 0, l_sum = 0, tt_sum = 0, tl_sum = 0;
    for (std::size_t i = 0; i < energy.size() && energy[i] > to * energy[0]; ++i) {
        if (energy[i] > from * energy[0])
            continue;
        const double t = static_cast<double>(i * hop) / rate_hz, l = std::log(energy[i]);
        count += 1, t_sum += t, l_sum += l, tt_sum += t * t, tl_sum += t * l;
    }
    const double spread = count * tt_sum - t_sum * t_sum;
    return count > 2 ? std::max(0.0, -0.5 * (count * tl_sum - t_sum * l_sum) / spread) : 0;
}

/// Of a pole, as a share of its decay; ratio: the room's decay over the mode's.
double first_order(double share, double ratio) {
    return 2 * std::sqrt(share * ratio / std::pow(1 + ratio, 3));
}

} // namespace

HeardRoom hear_room(const RoomSamples& samples, const std::vector<Component>& components) {
    HeardRoom heard{{}, std::vector<bool>(components.size())};
    const DirectSound direct(samples, components);
    const Power left = power_of(samples.left);
    if (!direct.follows_most(left, groups_of(components, samples)))
        return heard;
    const std::vector<double> height = heights(samples, components);
    double share = 1; // the most that is likely, to begin with
    std::vector<double> rest;
    for (int round = 0; round < k_rounds; ++round) {
        std::vector<bool> trusted(components.size());
        for (std::size_t i = 0; i < components.size(); ++i)
            trusted[i] = height[i] > k_trusted * share;
        rest = untold(samples, components, trusted);
        share = direct.share_left(power_of(rest), trusted);
    }
    heard.room = {share, decay_per_s_of(rest, samples.rate_hz)};
    if (!(share > 0) || !(heard.room.decay_per_s > 0) ||
        heard.room.decay_per_s > std::log(1000) / k_least_t60_s)
        return {{}, std::move(heard.is_rooms)};
    for (std::size_t i = 0; i < components.size(); ++i)
        heard.is_rooms[i] =
            height[i] < share * (stronger_beside(i, components, samples) != i ? k_stands_out_near
                                                                              : k_stands_out);
    return heard;
}

double lengthening(const Reverberation& room) { return std::pow(1 + room.share, 2.0 / 3.0); }

double decay_deviation(const Reverberation& room, double decay_per_s) {
    return first_order(room.share / (1 + room.share), room.decay_per_s / decay_per_s);
}

double frequency_deviation_hz(const Reverberation& room, double decay_per_s) {
    return k_of_frequency * first_order(room.share, room.decay_per_s / decay_per_s) * decay_per_s /
           (2 * pi);
}

double cost_cents(const Reverberation& room) {
    constexpr double hz = 350, q = 60;
    if (!(room.share > 0))
        return 0;
    return base::normal_quantile(0.975) * frequency_deviation_hz(room, pi * hz / q) / hz * 1200 /
           std::numbers::ln2;
}

} // namespace platewright::modes
