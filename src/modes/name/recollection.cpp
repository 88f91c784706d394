#include "modes/name/recollection.hpp"

#include "base/stats.hpp"
#include "modes/name/expectation.hpp"
#include "modes/name/log_normal.hpp"
#include "modes/pool/match.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace platewright::modes {
namespace {

/// How often what was told apart then is a mode of its own, and no chair's.
constexpr double k_told_apart = 0.8;

/// ln(mass now / mass then); nothing where one is not known.
std::optional<double> log_mass_ratio(const Subject& subject, const Earlier& session) {
    // What a closed body weighs with its fittings says nothing of how it vibrates.
    if (!subject.mass_g || !session.mass_g || subject.part == Part::body)
        return std::nullopt;
    return std::log(*subject.mass_g / *session.mass_g);
}

std::vector<Mode> plain_modes(const Earlier& session) {
    std::vector<Mode> modes;
    for (const NamedMode& m : session.modes)
        modes.push_back(m.mode);
    return modes;
}

/// What f-holes and bar do to a mode, in ln of its frequency, beyond what all modes have in common.
struct Reshaped {
    double shift = 0;
    double sd = 0;
};

bool has_holes(Stage stage) { return stage >= Stage::f_holes_cut; }
bool has_bar(Stage stage) { return stage >= Stage::bar_fitted; }

/// The ring bends most where the holes are cut: it falls by 3 % where they are plain slots and by a
/// tenth where they have hooks (solids of our own, docs/plate-model.md); the bar lifts it again by
/// about as much (common practice, no source). Stages that leave the plate's shape alone do nothing
/// but what work between them may do.
Reshaped reshaped(int name, const Subject& subject, Stage then) {
    if (subject.part == Part::back || subject.stage == then)
        return {};
    if (subject.part == Part::body)
        return {0.0, 0.06};
    Reshaped change{0.0, 0.02};
    const double times = name == 5 ? 1.0 : 0.15;
    const auto add = [&](double shift) {
        change.shift += times * shift;
        change.sd = std::hypot(change.sd, name == 5 ? 0.05 : 0.04);
    };
    if (has_holes(then) != has_holes(subject.stage))
        add(has_holes(subject.stage) ? -0.07 : 0.07);
    if (has_bar(then) != has_bar(subject.stage))
        add(has_bar(subject.stage) ? 0.07 : -0.07);
    return change;
}

Remembered remembered(const Mode& mode, double log_shift, double sd) {
    return {std::log(mode.frequency_hz) + log_shift, sd, std::log(mode.q), mode.spots};
}

struct Drift {
    double log_shift = 0; ///< of a mode of middling exponent
    double sd = 0;        ///< from mode to mode
};

/// How all modes moved from a session to now: by mass, corrected by the median over the pairs that
/// match whatever they are called.
Drift common_drift(std::span<const Mode> now, const Subject& subject, const Earlier& session) {
    constexpr int any_name = 0;
    const auto lost = log_mass_ratio(subject, session);
    Drift drift;
    drift.log_shift = session.log_air + (lost ? mass_exponent(any_name) * *lost : 0.0);
    // Where the wood came off is not known.
    const double own = lost ? 0.3 * std::abs(*lost) : 0.03;
    // A plate takes hours to a day to settle to its air.
    drift.sd = std::hypot(0.009, own, 0.3 * session.log_air);
    const std::vector<Mode> then = plain_modes(session);
    const double apart = std::hypot(drift.sd, reshaped(0, subject, session.stage).sd);
    const MatchGates gates{.frequency_ratio = 0.04 + 2.0 * apart,
                           .expected_ratio = std::exp(drift.log_shift)};
    std::vector<double> residuals;
    for (const Pair& pair : match(then, now, gates)) {
        residuals.push_back(std::log(now[pair.b].frequency_hz / then[pair.a].frequency_hz) -
                            drift.log_shift);
    }
    if (residuals.size() >= 3) {
        drift.log_shift += base::median(residuals);
    } else {
        drift.sd = std::hypot(drift.sd, 0.015);
    }
    return drift;
}

} // namespace

std::vector<Recollection> recollect(std::span<const Mode> now, const Subject& subject,
                                    std::span<const Earlier> earlier) {
    std::vector<Recollection> memories;
    std::set<int> known;
    for (std::size_t back = 0; back < earlier.size(); ++back) {
        const Earlier& session = earlier[earlier.size() - 1 - back];
        const auto bears_news = [&](const NamedMode& m) {
            return m.name && !known.contains(m.name->number);
        };
        if (std::none_of(session.modes.begin(), session.modes.end(), bears_news))
            continue;
        const Drift drift = common_drift(now, subject, session);
        const double lost = log_mass_ratio(subject, session).value_or(0.0);
        std::vector<Remembered> others;
        for (const NamedMode& m : session.modes)
            if (!m.name)
                others.push_back(
                    remembered(m.mode, drift.log_shift,
                               std::hypot(drift.sd, reshaped(0, subject, session.stage).sd)));
        std::set<int> here;
        for (const NamedMode& m : session.modes) {
            if (!bears_news(m) || here.contains(m.name->number))
                continue;
            const int name = m.name->number;
            here.insert(name);
            // Half of what the exponents differ by: the median has seen the rest.
            const double own = 0.5 * (mass_exponent(name) - mass_exponent(0)) * lost;
            const Reshaped change = reshaped(name, subject, session.stage);
            memories.push_back({remembered(m.mode, drift.log_shift + own + change.shift,
                                           std::hypot(drift.sd, change.sd)),
                                name, m.name->by_maker ? 1.0 : std::min(m.name->confidence, 0.98),
                                others});
        }
        known.insert(here.begin(), here.end());
    }
    return memories;
}

double log_other(const Mode& mode, const Recollection& memory) {
    const double told_apart = k_told_apart * memory.sure;
    double other = 1.0 - told_apart;
    for (const Remembered& one : memory.others)
        other += told_apart * std::exp(log_likeness(mode, one));
    return std::log(other);
}

double log_likeness(const Mode& mode, const Remembered& memory) {
    double sum = log_tailed(std::log(mode.frequency_hz), memory.log_hz, memory.log_hz_sd) -
                 std::log(k_mode_density);
    const double damping = std::log(mode.q) - memory.log_q;
    sum += log_tailed(damping, 0.0, 0.15) - log_normal(damping, 0.0, 0.3);
    for (const SpotLevel& then : memory.spots) {
        if (then.spot == taps::Spot::unknown)
            continue;
        for (const SpotLevel& now : mode.spots) {
            if (now.spot != then.spot)
                continue;
            const double change = now.level_db - then.level_db;
            sum += log_tailed(change, 0.0, 4.0) - log_normal(change, 0.0, 10.0);
        }
    }
    return sum;
}

} // namespace platewright::modes
