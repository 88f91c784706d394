#include "taps/judge.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>
#include <vector>

#include <Eigen/Core>

#include "base/level.hpp"
#include "base/stats.hpp"
#include "taps/in_step.hpp"
#include "taps/prediction.hpp"

namespace platewright::taps {
namespace {

double rms_db(std::span<const float> samples) {
    const auto size = static_cast<Eigen::Index>(samples.size());
    const double sum = Eigen::Map<const Eigen::VectorXf>(samples.data(), size).cast<double>().squaredNorm();
    return samples.empty() ? base::k_silence_db
                           : base::amplitude_to_db(std::sqrt(sum / static_cast<double>(samples.size())));
}

/// Times are in seconds from the strike; negative lies in the pre-roll. Cut to what there is.
class Ring {
public:
    explicit Ring(const Cut& cut) : cut_(cut) {}
    std::span<const float> between(double from_s, double to_s) const {
        const auto [from, to] = std::pair{index(from_s), index(to_s)};
        return to > from ? cut_.in_band.subspan(from, to - from) : std::span<const float>{};
    }
    double length_s() const {
        return static_cast<double>(cut_.in_band.size() - cut_.tap.onset_index) / cut_.tap.sample_rate_hz;
    }
    double loudest_db(double from_s, double to_s, double step_s) const {
        double loudest = base::k_silence_db;
        for (double at = from_s; at + step_s <= to_s + 1e-9; at += step_s)
            loudest = std::max(loudest, rms_db(between(at, at + step_s)));
        return loudest;
    }

private:
    std::size_t index(double at_s) const {
        const double at = static_cast<double>(cut_.tap.onset_index) + at_s * cut_.tap.sample_rate_hz;
        return static_cast<std::size_t>(std::clamp(at, 0.0, static_cast<double>(cut_.in_band.size())));
    }
    const Cut& cut_;
};

/// Smallest step between samples that differ: how coarsely the sound was written down.
float coarseness(const Tap& tap) {
    float least = 1;
    for (std::size_t i = 1; i < tap.samples.size(); ++i) {
        const float step = std::abs(tap.samples[i] - tap.samples[i - 1]);
        least = step > 0 ? std::min(least, step) : least;
    }
    return least;
}

/// Flat tops: samples in a row that stand still near full scale, or at a lower limit of the input.
/// Eight bits stand still on every crest, so there only full scale tells.
bool is_clipped(const Tap& tap) {
    std::optional<bool> is_coarse; // looked for where it is asked for
    int still = 0, at_full_scale = 0;
    for (std::size_t i = std::max<std::size_t>(tap.onset_index, 1); i < tap.samples.size(); ++i) {
        const float x = std::abs(tap.samples[i]);
        at_full_scale = x >= 0.999F ? at_full_scale + 1 : 0;
        still = x > 0.4F && std::abs(tap.samples[i] - tap.samples[i - 1]) < 1e-6F ? still + 1 : 0;
        if (still >= 3 && !is_coarse)
            is_coarse = coarseness(tap) > 1.0F / 1024;
        if (at_full_scale >= 2 || (still >= 3 && !*is_coarse))
            return true;
    }
    return false;
}

struct Later {
    int strikes = 0; ///< how often something leapt up after the first strike, weaker ones left out
    int stirs = 0;   ///< how often something stirred once the strike's own tail was over
};

/// What came after the first strike, by what a linear predictor of the ring could not foresee.
Later after_strike(const Cut& cut, const Ring& ring, const DetectorParams& params) {
    constexpr int order = 48;
    constexpr double step_s = 0.003, after_s = 0.015, tail_s = 0.06;
    constexpr double weaker = 0.0025;   // of the first strike's energy: -26 dB, too weak to matter
    constexpr double unforeseen = 4.0;  // times the usual innovation of this ring
    constexpr double leap = 4.0;        // times the two steps before: a real strike's own tail is not
                                        // foreseen either, but it only dies away
    const double rate = cut.tap.sample_rate_hz;
    const auto every = static_cast<std::size_t>(std::max(1.0, std::floor(rate / (4 * params.high_hz))));
    // Aliasing does no harm: an aliased decaying sinusoid is as well foreseen as any other.
    std::vector<float> thinned;
    const std::span span = ring.between(-0.02, ring.length_s());
    for (std::size_t i = 0; i < span.size(); i += every)
        thinned.push_back(span[i]);
    const auto step = static_cast<std::size_t>(std::max(1.0, step_s * rate / static_cast<double>(every)));
    const std::size_t before = std::min(cut.tap.onset_index, static_cast<std::size_t>(0.02 * rate)) / every;
    const std::size_t start = before + static_cast<std::size_t>(after_s / step_s) * step;
    if (thinned.size() < start + 4 * order)
        return {};
    const auto predictor = burg(std::span{thinned}.subspan(start), order);
    const auto left = innovation(thinned, predictor);
    std::vector<double> energy;
    double first = 0;
    for (std::size_t at = 0; at + step <= left.size(); at += step) {
        double sum = 0;
        for (std::size_t i = at; i < at + step; ++i)
            sum += left[i] * left[i];
        if (at >= start)
            energy.push_back(sum);
        else
            first += sum;
    }
    if (energy.empty())
        return {};
    const double usual = base::median(energy);
    Later later;
    bool was_stirred = false, was_struck = false;
    double one_before = first, two_before = first;
    for (std::size_t i = 0; i < energy.size(); ++i) {
        const double e = energy[i];
        const bool stirred = e > unforeseen * usual && e > weaker * first;
        const bool struck = stirred && e > leap * std::max(one_before, two_before);
        const bool tail_over = after_s + static_cast<double>(i) * step_s > tail_s;
        later.stirs += tail_over && stirred && !was_stirred ? 1 : 0;
        later.strikes += struck && !was_struck ? 1 : 0;
        was_stirred = stirred;
        was_struck = struck;
        two_before = std::exchange(one_before, e);
    }
    return later;
}

/// Whether what follows the strike decays as a ring does: neither gone at once, as a knock is, nor
/// standing, as a voice or a motor. Two close modes, or the air under a bar, may swell for the
/// first tenth of a second.
bool rings(const Ring& ring) {
    constexpr double step_s = 0.02;
    const double early = ring.loudest_db(0.0, 0.04, step_s);
    const double sustained = rms_db(ring.between(0.05, 0.09));
    if (sustained < early - 24)
        return false;
    const double length = ring.length_s();
    const double tail = rms_db(ring.between(std::max(0.1, length - 0.1), length));
    const double later = ring.loudest_db(0.1, length, step_s);
    return tail < sustained - 3 && later < ring.loudest_db(0.0, 0.1, step_s) + 1;
}

/// Whether what sounded before was only a ring, such as the strike before left: it spoils no fit, for its modes are
/// the same. Never where it is nearly as loud as the strike.
bool rang_before(const Cut& cut, const DetectorParams& params, double below_strike_db) {
    constexpr double least_below_db = 12, rings = 0.85;
    return below_strike_db > least_below_db &&
           in_step(cut.in_band.first(cut.tap.onset_index), 0, cut.tap.sample_rate_hz, params.low_hz, params.high_hz)
                   .foreseen > rings;
}

/// Whether a hand, or a gate, stopped it before it could be measured: it falls away at once, far steeper than it had
/// begun to, and stays away.
bool was_stopped(const Ring& ring, double until_s) {
    constexpr double piece_s = 0.01, drop_db = 15, steeper = 3;
    const double first = rms_db(ring.between(0.01, 0.03));
    // Of a tap that still rings only as much is told as has been heard.
    const double end_s = std::min(until_s, ring.length_s() - 4 * piece_s);
    for (double at = 0.04; at < end_s; at += piece_s) {
        const double level = rms_db(ring.between(at - 2 * piece_s, at));
        if (level - rms_db(ring.between(at + 2 * piece_s, at + 4 * piece_s)) <= drop_db)
            continue; // it goes on at once: no need to look at all that follows
        const double drop = level - ring.loudest_db(at + 2 * piece_s, ring.length_s(), 2 * piece_s);
        const double usual = std::max(0.0, first - level) / (at - 0.03 + piece_s) * 4 * piece_s;
        if (drop > drop_db && drop > steeper * usual)
            return true;
    }
    return false;
}

/// How fast it dies away over its whole length, dB/s; as far as the room, for coarse sound ends in nothing at all.
double fall_db_per_s(const Ring& ring, double room_dbfs) {
    constexpr double last_s = 0.04;
    const double length = ring.length_s();
    const double last = std::max(room_dbfs, rms_db(ring.between(length - last_s, length)));
    return (ring.loudest_db(0.0, 0.06, 0.02) - last) / length;
}

/// Whether it stays in step with itself, and dies ever slower, as only what rings does. The less it dies away, the
/// surer that must be: a voice stands, and is in step for a while. So must it be where all of it is gone sooner than
/// of a plate (T60 about half a second), as a thump is in a dull room. The figures lie between what 570 simulated
/// strikes and 20 recordings of real bars gave, and three hours of disturbances (docs/detection-results.md).
bool stays_in_step(const Cut& cut, const Ring& ring, const DetectorParams& params) {
    constexpr double least_left = 0.075, least_foreseen = 0.4, faster = 1.2;
    constexpr double dies = 0.47, dearer = 3, most_asked = 0.86;
    constexpr double plate_db_per_s = 108, dearer_per_db_per_s = 0.03, most_asked_of_the_gone = 0.92;
    const InStep found =
        in_step(cut.in_band, cut.tap.onset_index, cut.tap.sample_rate_hz, params.low_hz, params.high_hz);
    const double fall = fall_db_per_s(ring, cut.room_dbfs);
    const double stands = dearer * std::max(0.0, found.kept - dies);
    const double gone = dearer_per_db_per_s * std::max(0.0, fall - plate_db_per_s);
    const double asked =
        std::max(std::min(most_asked, least_foreseen + stands), std::min(most_asked_of_the_gone, least_foreseen + gone));
    return found.kept * found.foreseen > least_left && found.foreseen > asked && fall < faster * found.dies_db_per_s;
}

} // namespace

Verdict judge(const Cut& cut, const DetectorParams& params) {
    const Ring ring(cut);
    if (cut.gap)
        return Verdict::gap;
    if (is_clipped(cut.tap))
        return Verdict::clipped;
    const double strike = ring.loudest_db(0.0, 0.06, 0.02);
    if (rms_db(ring.between(0.01, params.shortest_s)) < cut.room_dbfs + 10 ||
        strike < cut.room_dbfs + params.rise_db)
        return Verdict::too_weak;
    const double before = ring.loudest_db(-params.pre_roll_s, -0.006, 0.02);
    if (before > cut.room_dbfs + 12 && before > strike - 26 && !rang_before(cut, params, strike - before))
        return Verdict::noise_before;
    const Later later = after_strike(cut, ring, params);
    if (later.stirs >= 4 || later.strikes >= 4)
        return Verdict::no_ring;
    // What a hand does when it stops the plate is not foreseen either.
    const bool stopped = was_stopped(ring, params.shortest_s);
    if (cut.struck_again || (later.strikes > 0 && !stopped))
        return Verdict::struck_twice;
    if (!rings(ring))
        return Verdict::no_ring;
    if (ring.length_s() < params.shortest_s || stopped)
        return Verdict::too_short;
    if (!stays_in_step(cut, ring, params))
        return Verdict::no_ring;
    return Verdict::accepted;
}

} // namespace platewright::taps
