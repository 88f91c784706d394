#include "trends/model/weighed_taps.hpp"

#include "ledger/limits.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::trends {
namespace {

using wording::figure;
using wording::say;

// A bare plate's modes lie this near to themselves from tap to tap of one session, air included; a
// gram moves half of a violin plate's by more.
constexpr double k_same = 0.0015;
// ln(f0/f) of a mode at the place it moves most, over mass through plate's mass: at a top's ends up
// to five: 10.4 of 141 Hz for 1 g on 61.
constexpr double k_most_fall = 6.0;
constexpr double k_strong_db = -25.0; // modes that each tap tells
constexpr std::size_t k_most_modes = 8;
constexpr double k_mostly = 0.7;    // of the modes
constexpr double k_tap_sd = 0.0002; // of a frequency, tap to tap, untouched: between the median
                                    // and the upper quartile of ten boards
constexpr double k_no_return_sd = 0.0006;  // where the plate was not tapped bare again: air, hold
constexpr double k_drift_left = 0.25;      // of a drift that a straight line leaves
constexpr double k_bare_within = 0.004;    // of its mode a bare tap's partial lies
constexpr double k_expected_within = 0.35; // of a fall, and k_same
constexpr std::int64_t k_meanwhile_ms = 20 * 60 * 1000;
constexpr std::size_t k_most_bare = 3; // taps on either side
constexpr double k_most_mass = 0.1;    // of the plate's

double farthest_fall(double mass_g, std::optional<double> plate_g) {
    constexpr double k_lightest_plate_g = 55.0; // a violin top's, about: the most it can be
    return std::min(0.25, k_most_fall * mass_g / plate_g.value_or(k_lightest_plate_g));
}

const modes::Partial* nearest(std::span<const modes::Partial> partials, double at_hz, double below,
                              double above) {
    const modes::Partial* best = nullptr;
    for (const modes::Partial& p : partials)
        if (p.frequency_hz >= at_hz * (1.0 - below) && p.frequency_hz <= at_hz * (1.0 + above) &&
            (!best || std::abs(p.frequency_hz - at_hz) < std::abs(best->frequency_hz - at_hz)))
            best = &p;
    return best;
}

bool is_bare(const ledger::TapRecord& tap) { return taps::counts(tap.verdict); }
bool is_with(const ledger::TapRecord& tap, const ledger::WeighingRecord& weighing) {
    return tap.verdict == taps::Verdict::weighed && tap.weighing == weighing.id;
}

// The taps of a weighing; bare ones those nearest in time.
struct Sorted {
    std::vector<const ledger::TapRecord*> before, with, after;
};

Sorted sorted(const ledger::SessionHistory& session, const ledger::WeighingRecord& weighing) {
    Sorted s;
    const auto with = [&](const ledger::TapRecord& tap) { return is_with(tap, weighing); };
    const auto first = std::ranges::find_if(session.taps, with);
    auto last = first;
    for (auto tap = first; tap != session.taps.end(); ++tap)
        if (with(*tap)) {
            s.with.push_back(&*tap);
            last = tap;
        }
    const auto is_near = [](const ledger::TapRecord& a, const ledger::TapRecord& b) {
        return std::abs(a.at.ms_since_epoch - b.at.ms_since_epoch) <= k_meanwhile_ms;
    };
    for (auto tap = session.taps.begin(); tap != first; ++tap)
        if (is_bare(*tap) && (s.with.empty() || is_near(*tap, *first)))
            s.before.push_back(&*tap);
    if (s.before.size() > k_most_bare)
        s.before.erase(s.before.begin(), s.before.end() - k_most_bare);
    if (last == session.taps.end())
        return s;
    for (auto tap = last; tap != session.taps.end() && s.after.size() < k_most_bare; ++tap)
        if (is_bare(*tap) && is_near(*tap, *last))
            s.after.push_back(&*tap);
    return s;
}

// A mode's frequency over some taps, with when.
struct Mean {
    double hz = 0, sd = 0, at_ms = 0;
    int taps = 0;
};

template <class Find>
Mean mean_of(const std::vector<const ledger::TapRecord*>& taps, const Find& find) {
    Mean m;
    std::vector<double> all;
    double fit = 0;
    for (const ledger::TapRecord* tap : taps) {
        const modes::Partial* p = find(tap->partials);
        if (!p)
            continue;
        all.push_back(p->frequency_hz);
        fit += p->frequency_sd_hz * p->frequency_sd_hz;
        m.hz += p->frequency_hz;
        m.at_ms += static_cast<double>(tap->at.ms_since_epoch);
    }
    m.taps = static_cast<int>(all.size());
    if (m.taps == 0)
        return m;
    const double n = m.taps;
    m.hz /= n;
    m.at_ms /= n;
    double scatter = 0;
    for (const double hz : all)
        scatter += (hz - m.hz) * (hz - m.hz) / std::max(1.0, n - 1.0);
    const double own = k_tap_sd * m.hz;
    m.sd = std::sqrt((std::max(own * own, scatter) + fit / n) / n);
    return m;
}

} // namespace

MassHeard mass_heard(std::span<const ledger::ModeRecord> own, std::span<const modes::Partial> heard,
                     double mass_g, std::optional<double> plate_g) {
    std::vector<const ledger::ModeRecord*> strong;
    for (const ledger::ModeRecord& mode : own)
        if (mode.mode.level_db >= k_strong_db)
            strong.push_back(&mode);
    if (strong.size() > k_most_modes)
        strong.resize(k_most_modes); // the lowest: they lie apart
    const double fall = farthest_fall(mass_g, plate_g);
    int same = 0, fallen = 0, known = 0;
    for (const ledger::ModeRecord* mode : strong) {
        const double hz = mode->mode.frequency_hz;
        const bool is_same = nearest(heard, hz, k_same, k_same) != nullptr;
        const bool is_fallen = !is_same && nearest(heard, hz, fall + k_same, -k_same) != nullptr;
        same += is_same ? 1 : 0;
        fallen += is_fallen ? 1 : 0;
        ++known;
    }
    if (known == 0)
        return MassHeard::unclear;
    if (same >= k_mostly * known && fallen <= same / 4)
        return MassHeard::off;
    return fallen > 0 && same + fallen >= k_mostly * known ? MassHeard::on : MassHeard::unclear;
}

WeighingProgress progress_of(const ledger::SessionHistory& session,
                             const ledger::WeighingRecord& weighing) {
    const Sorted s = sorted(session, weighing);
    WeighingProgress p;
    p.bare_before = static_cast<int>(s.before.size());
    p.with = static_cast<int>(s.with.size());
    p.bare_after = static_cast<int>(s.after.size());
    p.step = p.with == 0 && p.bare_before < k_taps_each ? WeighingStep::tap_bare
             : p.with < k_taps_each                     ? WeighingStep::tap_with
             : p.bare_after < k_taps_each               ? WeighingStep::take_off
                                                        : WeighingStep::done;
    return p;
}

std::vector<WeighedModeShift> weighed_shifts(const ledger::SessionHistory& session,
                                             const ledger::WeighingRecord& weighing,
                                             const ExpectedRatio& expected) {
    const Sorted s = sorted(session, weighing);
    const double fall = farthest_fall(weighing.mass_g, session.session.mass_g);
    std::vector<WeighedModeShift> all;
    for (const ledger::ModeRecord& mode : session.modes) {
        if (!mode.name || mode.name->number <= 0 || mode.name->number >= modes::k_a0)
            continue;
        const int number = mode.name->number;
        const double hz = mode.mode.frequency_hz;
        const auto bare = [&](std::span<const modes::Partial> partials) {
            return nearest(partials, hz, k_bare_within, k_bare_within);
        };
        const Mean before = mean_of(s.before, bare), after = mean_of(s.after, bare);
        const Mean& either = before.taps > 0 ? before : after;
        if (either.taps == 0)
            continue;
        const auto ratio = expected ? expected(number) : std::nullopt;
        const auto near_bare = [&](std::span<const modes::Partial> partials) {
            return nearest(partials, either.hz, fall, k_same);
        };
        Mean with;
        if (ratio)
            with = mean_of(s.with, [&](std::span<const modes::Partial> partials) {
                const double within = k_expected_within * std::abs(*ratio) + k_same;
                return nearest(partials, either.hz * std::exp(*ratio), within, within);
            });
        if (with.taps == 0) // the fit says that it doesn't belong, where it doesn't
            with = mean_of(s.with, near_bare);
        if (with.taps == 0)
            continue;
        WeighedModeShift shift;
        shift.number = number;
        shift.on_hz = with.hz;
        double off_sd = 0;
        if (before.taps > 0 && after.taps > 0) {
            const double part = std::clamp(
                (with.at_ms - before.at_ms) / std::max(1.0, after.at_ms - before.at_ms), 0.0, 1.0);
            shift.drift_hz = after.hz - before.hz;
            shift.off_hz = before.hz + part * shift.drift_hz;
            off_sd = std::hypot((1.0 - part) * before.sd, part * after.sd,
                                k_drift_left * part * (1.0 - part) * shift.drift_hz);
        } else {
            shift.off_hz = either.hz;
            off_sd = std::hypot(either.sd, k_no_return_sd * either.hz);
        }
        shift.shift = {number, std::log(shift.on_hz / shift.off_hz),
                       std::hypot(off_sd, with.sd) / shift.off_hz};
        all.push_back(shift);
    }
    std::ranges::sort(all, {}, &WeighedModeShift::number);
    return all;
}

std::optional<base::Fault> fault_in(const ledger::WeighingRecord& weighing,
                                    const plate::Outline& outline, std::optional<double> plate_g) {
    if (!(weighing.mass_g > 0.0) || !std::isfinite(weighing.mass_g))
        return base::Fault{say("A mass of {} g can't be laid on: give its grams, about a hundredth "
                               "of the plate's. Nothing was stored.",
                               figure(weighing.mass_g, 2))};
    if (plate_g && weighing.mass_g > k_most_mass * *plate_g)
        return base::Fault{
            say("{} g are more than a tenth of the plate: modes change too much to be followed. "
                "Take about a hundredth of its mass. Nothing was stored.",
                figure(weighing.mass_g, 1))};
    if (!ledger::k_off_place.hold(weighing.place_sd_mm))
        return base::Fault{say("A place that may be {} mm off says nothing: give a few millimetres "
                               "at most. Nothing was stored.",
                               figure(weighing.place_sd_mm, 1))};
    if (!outline.holds(weighing.at))
        return base::Fault{say("{}, {} mm is off the plate. Nothing was stored.",
                               figure(weighing.at.x_mm, 1), figure(weighing.at.y_mm, 1))};
    return std::nullopt;
}

} // namespace platewright::trends
