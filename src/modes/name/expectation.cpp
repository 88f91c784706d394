#include "modes/name/expectation.hpp"

#include "modes/name/log_normal.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::modes {
namespace {

using taps::Spot;

constexpr double k_profile_sd_db = 7.0;    // spread of spot levels from plate to plate
constexpr double k_own_sd_db = 5.0;        // about what a model of this very plate says
constexpr double k_least_level_db = -25.0; // a hammer has a width, and no hand strikes a line
constexpr double k_other_level_db = -9.0;  // of a mode of no known name, at any spot
constexpr double k_other_level_sd = 8.0;

struct Finished {
    double mode_1, mode_2, mode_5; // Hz
    double sd;                     // of the logarithm
};

Finished finished_plate(const Subject& subject) {
    const bool top = subject.part == Part::top;
    switch (subject.kind) {
    case InstrumentKind::violin:
        return top ? Finished{84, 150, 328, 0.09} : Finished{112, 168, 355, 0.07};
    case InstrumentKind::viola:
        return top ? Finished{62, 115, 247, 0.14} : Finished{82, 125, 265, 0.14};
    case InstrumentKind::cello:
        return top ? Finished{33, 63, 130, 0.18} : Finished{40, 64, 147, 0.16};
    case InstrumentKind::double_bass:
        return top ? Finished{21, 39, 82, 0.28} : Finished{25, 40, 92, 0.28};
    case InstrumentKind::other:
        break;
    }
    return {100, 160, 340, 0.6};
}

/// Of a smaller body: f ∝ thickness / length², and small plates are made thinner, but not in
/// proportion. The exponent lies between 1 (all in proportion) and 2 (thickness as ever); its doubt
/// is said with it. Common practice, no source.
LogBelief shift_of_size(const Subject& subject) {
    constexpr double k_exponent = 1.5, k_exponent_sd = 0.3;
    const double log_size = std::log(subject.size());
    return {-k_exponent * log_size, k_exponent_sd * std::abs(log_size)};
}

struct StageShift {
    double log_shift;
    double sd;
};

/// How much higher a plate lies before it is finished (common practice, no source; wide).
StageShift shift_of(Stage stage) {
    switch (stage) {
    case Stage::rough:
        return {0.22, 0.12};
    case Stage::graduating:
        return {0.10, 0.09};
    case Stage::graduated:
        return {0.03, 0.05};
    case Stage::f_holes_cut:
        return {-0.05, 0.06};
    case Stage::bar_fitted:
        return {0.02, 0.05};
    case Stage::finished:
    case Stage::closed:
    case Stage::varnished:
    case Stage::set_up:
        break;
    }
    return {0.0, 0.0};
}

/// A level that is believed, with its deviation.
struct SpotBelief {
    double level_db = 0.0;
    double sd_db = k_profile_sd_db;
};

std::optional<SpotBelief> believed(int name, Spot spot, std::span<const SpotProfile> profiles) {
    for (const SpotProfile& profile : profiles)
        if (profile.name == name)
            for (const SpotProfile::Level& level : profile.levels)
                if (level.spot == spot)
                    return SpotBelief{std::max(level.level_db, k_least_level_db), k_own_sd_db};
    const auto general = expected_spot_db(name, spot);
    return general ? std::optional(SpotBelief{*general}) : std::nullopt;
}

double shape_evidence(const Mode& mode, int name, std::span<const SpotProfile> profiles) {
    double sum = 0.0;
    for (const SpotLevel& s : mode.spots) {
        const auto expected = believed(name, s.spot, profiles);
        if (!expected)
            continue;
        sum += log_tailed(s.level_db, expected->level_db, expected->sd_db) -
               log_tailed(s.level_db, k_other_level_db, k_other_level_sd);
    }
    return sum;
}

/// Mode 5 moves the most air and is heard as the tap tone.
double loudness_evidence(const Mode& mode, int name) {
    if (name != 5)
        return 0.0;
    return log_normal(mode.level_db, -2.0, 5.0) - log_normal(mode.level_db, -11.0, 7.0);
}

} // namespace

LogBelief expected_frequency(int name, const Subject& subject) {
    const Finished finished = finished_plate(subject);
    const double hz = name == 1 ? finished.mode_1 : name == 2 ? finished.mode_2 : finished.mode_5;
    const StageShift shift = shift_of(subject.stage);
    // Mode 5 follows the arch more than the thickness.
    const double share = name == 5 ? 0.6 : 1.0;
    const LogBelief size = shift_of_size(subject);
    return {std::log(hz) + share * shift.log_shift + size.centre,
            std::hypot(finished.sd, shift.sd, size.sd)};
}

LogBelief expected_ratio_2_to_1(const Subject& subject) {
    if (subject.part == Part::top)
        return {std::log(1.80), 0.08};
    return {std::log(1.49), 0.07};
}

LogBelief expected_ratio_5_to_2() { return {std::log(2.08), 0.09}; }

std::optional<double> expected_spot_db(int name, Spot spot) {
    const double row[3][4] = {
        // centre, end, bout edge, waist edge
        {-26, -20, 0, -14}, // mode 1
        {-11, 0, -6, -5},   // mode 2
        {0, -6, -10, -8},   // mode 5
    };
    const std::size_t which = name == 1 ? 0 : name == 2 ? 1 : 2;
    switch (spot) {
    case Spot::unknown:
        return std::nullopt;
    case Spot::centre:
        return row[which][0];
    case Spot::upper_end:
    case Spot::lower_end:
        return row[which][1];
    case Spot::bridge_bass:
    case Spot::bridge_treble:
        return std::nullopt; // not a plate's
    case Spot::waist_left:
    case Spot::waist_right:
        return row[which][3];
    default:
        return row[which][2];
    }
}

double mass_exponent(int name) {
    switch (name) {
    case 1:
        return 0.95;
    case 2:
        return 0.95;
    case 5:
        return 0.55;
    default:
        return 0.75;
    }
}

double log_evidence(const Mode& mode, int name, const Subject& subject,
                    std::span<const SpotProfile> profiles) {
    const LogBelief belief = expected_frequency(name, subject);
    const double typical_q = name == 1 ? 50.0 : name == 2 ? 56.0 : 64.0;
    const double log_q = std::log(mode.q);
    return log_tailed(std::log(mode.frequency_hz), belief.centre, belief.sd) -
           std::log(k_mode_density) + log_normal(log_q, std::log(typical_q), 0.35) -
           log_normal(log_q, std::log(65.0), 0.6) + loudness_evidence(mode, name) +
           shape_evidence(mode, name, profiles);
}

double log_missing(int name, std::span<const Mode> modes) {
    // Struck where it answers within some 12 dB, a mode is all but always found.
    double best = -30.0;
    for (const Mode& mode : modes) {
        for (const SpotLevel& s : mode.spots) {
            best = std::max(best, expected_spot_db(name, s.spot).value_or(-12.0));
        }
    }
    return best > -12.5 ? std::log(0.04) : std::log(0.3);
}

double telling_power(int name, Spot spot) {
    const auto expected = expected_spot_db(name, spot);
    return expected ? std::abs(*expected - k_other_level_db) / k_other_level_sd : 0.0;
}

} // namespace platewright::modes
