#include "taps/judge/judge.hpp"

#include "base/level.hpp"
#include "taps/judge/contacts_after.hpp"
#include "taps/judge/in_step.hpp"
#include "taps/onset/digital_silence.hpp"
#include "taps/onset/rms.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>
#include <vector>

namespace platewright::taps {
namespace {

/// Times are in seconds from the strike; negative lies in the pre-roll. Cut to what there is.
class Ring {
public:
    explicit Ring(const Cut& cut) : cut_(cut) {}
    std::span<const float> between(double from_s, double to_s) const {
        const auto [from, to] = std::pair{index(from_s), index(to_s)};
        return to > from ? cut_.in_band.subspan(from, to - from) : std::span<const float>{};
    }
    double length_s() const {
        return static_cast<double>(cut_.in_band.size() - cut_.tap.onset_index) /
               cut_.tap.sample_rate_hz;
    }
    double loudest_db(double from_s, double to_s, double step_s) const {
        double loudest = base::k_silence_db;
        for (double at = from_s; at + step_s <= to_s + 1e-9; at += step_s)
            loudest = std::max(loudest, rms_dbfs(between(at, at + step_s)));
        return loudest;
    }

private:
    std::size_t index(double at_s) const {
        const double at =
            static_cast<double>(cut_.tap.onset_index) + at_s * cut_.tap.sample_rate_hz;
        return static_cast<std::size_t>(
            std::clamp(at, 0.0, static_cast<double>(cut_.in_band.size())));
    }
    const Cut& cut_;
};

/// Flat tops: samples in a row that stand still near full scale, or at a lower limit of the input.
/// Eight bits stand still on every crest, so there only full scale tells.
bool is_clipped(const Tap& tap) {
    int still = 0, at_full_scale = 0;
    bool stood_still = false;
    for (std::size_t i = std::max<std::size_t>(tap.onset_index, 1); i < tap.samples.size(); ++i) {
        const float x = std::abs(tap.samples[i]);
        at_full_scale = x >= 0.999F ? at_full_scale + 1 : 0;
        still = x > 0.4F && std::abs(tap.samples[i] - tap.samples[i - 1]) < 1e-6F ? still + 1 : 0;
        if (at_full_scale >= 2)
            return true;
        stood_still = stood_still || still >= 3;
    }
    return stood_still && !is_coarse(tap.samples);
}

/// Whether what sounded before was only a ring, such as the strike before left: it spoils no fit,
/// for its modes are the same. Never where it is still nearly as loud as the strike.
bool rang_before(const Cut& cut, const Ring& ring, const DetectorParams& params, double strike_db) {
    constexpr double least_below_db = 12, rings = 0.85;
    return strike_db - ring.loudest_db(-0.046, -0.006, 0.02) > least_below_db &&
           in_step(cut.in_band.first(cut.tap.onset_index), cut.tap.sample_rate_hz, params.low_hz,
                   params.high_hz) > rings;
}

/// Whether a hand, or a gate, stopped it before it could be measured: it falls away at once, far
/// steeper than it had begun to, and stays away.
bool was_stopped(const Ring& ring, double until_s) {
    constexpr double piece_s = 0.01, drop_db = 15, steeper = 3;
    const double first = rms_dbfs(ring.between(0.01, 0.03));
    // Of a tap that still rings only as much is told as has been heard.
    const double end_s = std::min(until_s, ring.length_s() - 4 * piece_s);
    for (double at = 0.04; at < end_s; at += piece_s) {
        const double level = rms_dbfs(ring.between(at - 2 * piece_s, at));
        if (level - rms_dbfs(ring.between(at + 2 * piece_s, at + 4 * piece_s)) <= drop_db)
            continue; // it goes on at once: no need to look at all that follows
        const double drop = level - ring.loudest_db(at + 2 * piece_s, ring.length_s(), 2 * piece_s);
        const double usual = std::max(0.0, first - level) / (at - 0.03 + piece_s) * 4 * piece_s;
        if (drop > drop_db && drop > steeper * usual)
            return true;
    }
    return false;
}

/// How far the strike's first 20 ms stand over the quiet before it where what repeats is taken off
/// both: mains hum comes again each period, so x[n] − g x[n − T], T of 20 to 42 ms and g learnt
/// from the quiet (the long-term predictor of speech coding), holds only what is new. dB; −∞ where
/// there is too little quiet to learn from, or it does not repeat.
double rise_over_hum_db(const Cut& cut) {
    constexpr double guard_s = 0.006, shortest_s = 0.020, longest_s = 0.042, piece_s = 0.020,
                     repeats = 0.8, of_quiet = 0.55;
    const auto frames = [&cut](double seconds) {
        return static_cast<std::size_t>(seconds * cut.tap.sample_rate_hz);
    };
    const double none = -std::numeric_limits<double>::infinity();
    const std::size_t end = cut.tap.onset_index - std::min(cut.tap.onset_index, frames(guard_s));
    if (of_quiet * static_cast<double>(end) < static_cast<double>(frames(longest_s)) ||
        cut.tap.onset_index + frames(piece_s) > cut.in_band.size())
        return none;
    const std::size_t stride = std::max<std::size_t>(1, frames(0.0001));
    double best = 0, gain = 0;
    std::size_t period = 0;
    for (std::size_t lag = frames(shortest_s); lag <= frames(longest_s); ++lag) {
        double both = 0, now = 1e-30, then = 1e-30;
        for (std::size_t n = frames(longest_s); n < end; n += stride) {
            const double x = static_cast<double>(cut.in_band[n]),
                         y = static_cast<double>(cut.in_band[n - lag]);
            both += x * y;
            now += x * x;
            then += y * y;
        }
        const double alike = both / std::sqrt(now * then);
        if (alike > best) {
            best = alike;
            gain = both / then;
            period = lag;
        }
    }
    if (best < repeats)
        return none;
    const auto novel_db = [&](std::size_t from, std::size_t to) {
        std::vector<float> novel;
        for (std::size_t n = from; n < to; ++n)
            novel.push_back(cut.in_band[n] - static_cast<float>(gain) * cut.in_band[n - period]);
        return rms_dbfs(novel);
    };
    return novel_db(cut.tap.onset_index, cut.tap.onset_index + frames(piece_s)) -
           novel_db(frames(longest_s), end);
}

} // namespace

Verdict judge(const Cut& cut, const DetectorParams& params) {
    const Ring ring(cut);
    if (cut.gap)
        return Verdict::gap;
    if (is_clipped(cut.tap))
        return Verdict::clipped;
    // A damped plate is gone in a twentieth of a second: what counts is how it stands out while it
    // rings.
    constexpr double least_db = 6, noise_over_room_db = 12, noise_below_strike_db = 17;
    const double strike = ring.loudest_db(0.0, 0.06, 0.02);
    if (ring.loudest_db(0.01, 0.07, 0.02) < cut.room_dbfs + least_db ||
        (strike < cut.room_dbfs + params.rise_db && rise_over_hum_db(cut) < params.rise_db))
        return Verdict::too_weak;
    const double before = ring.loudest_db(-params.pre_roll_s, -0.006, 0.02);
    if (before > cut.room_dbfs + noise_over_room_db && before > strike - noise_below_strike_db &&
        !rang_before(cut, ring, params, strike))
        return Verdict::noise_before;
    // What a hand does when it stops the plate is not foreseen either.
    if (ring.length_s() < params.shortest_s || was_stopped(ring, params.shortest_s))
        return Verdict::too_short;
    return cut.struck_again || contacts_after(cut, params) > 0 ? Verdict::struck_twice
                                                               : Verdict::accepted;
}

} // namespace platewright::taps
