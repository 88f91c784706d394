#include "modes/name/expectation.hpp"
#include "modes/name/log_normal.hpp"
#include "modes/name/rules.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::modes {
namespace {

struct Known {
    int name;
    double hz;                        // of a violin in playing order
    double sd;                        // of its logarithm from instrument to instrument
    double viola, cello, double_bass; // Hz
    double q;
    double level_db; // below the strongest, heard by a microphone
    double missing;  // probability that taps at the bridge do not show it
};

// Order as in k_names below. Violin: docs/sources.md#signature-modes; the rest from memory, weak.
constexpr std::array k_known{
    Known{k_a0, 275, 0.05, 222, 100, 62, 22, -5, 0.08},
    Known{k_cbr, 400, 0.07, 310, 145, 90, 40, -14, 0.5},
    Known{k_b1_minus, 455, 0.08, 350, 172, 105, 38, -4, 0.06},
    Known{k_b1_plus, 535, 0.07, 415, 202, 125, 38, -4, 0.06},
};
constexpr double k_wider = 0.12; // of viola and cello

const Known& known(int name) {
    for (const Known& k : k_known)
        if (k.name == name)
            return k;
    return k_known.front();
}

LogBelief expected(const Known& k, const Subject& subject) {
    LogBelief belief{std::log(k.hz), k.sd};
    if (subject.kind == InstrumentKind::viola)
        belief = {std::log(k.viola), k_wider};
    else if (subject.kind == InstrumentKind::cello)
        belief = {std::log(k.cello), k_wider};
    else if (subject.kind == InstrumentKind::double_bass)
        belief = {std::log(k.double_bass), 2.0 * k_wider};
    else if (subject.kind == InstrumentKind::other)
        belief.sd = 0.6;
    // A body in proportion sounds by one over its length; small ones are deeper and stiffer than
    // that, or not.
    const double log_size = std::log(subject.size());
    belief = {belief.centre - log_size, std::hypot(belief.sd, 0.4 * log_size)};
    if (subject.stage != Stage::set_up) {
        belief.centre += k.name == k_a0 ? -0.12 : 0.0; // no post: the plates give way to the air
        belief.sd = std::hypot(belief.sd, k.name == k_a0 ? 0.05 : 0.10);
    }
    return belief;
}

double evidence(const Mode& mode, int name, const Subject& subject) {
    const Known& k = known(name);
    const LogBelief belief = expected(k, subject);
    const double log_q = std::log(mode.q);
    return log_tailed(std::log(mode.frequency_hz), belief.centre, belief.sd) -
           std::log(k_mode_density) + log_normal(log_q, std::log(k.q), 0.4) -
           log_normal(log_q, std::log(40.0), 0.6) + log_normal(mode.level_db, k.level_db, 6.0) -
           log_normal(mode.level_db, -11.0, 7.0);
}

// Against a ratio spread evenly over about an e-fold.
double against_any_body(double log_ratio, double ratio, double sd) {
    return log_tailed(log_ratio, std::log(ratio), sd);
}

double body_ratios(std::span<const std::optional<double>> log_hz) {
    const auto &a0 = log_hz[0], &cbr = log_hz[1], &minus = log_hz[2], &plus = log_hz[3];
    double sum = 0.0;
    if (minus && plus)
        sum += against_any_body(*plus - *minus, 1.18, 0.045);
    if (a0 && minus)
        sum += against_any_body(*minus - *a0, 1.64, 0.10);
    if (cbr && minus)
        sum += *cbr < *minus ? against_any_body(*minus - *cbr, 1.13, 0.06) : -6.0;
    return sum;
}

bool is_known(int name) { return std::ranges::find(k_known, name, &Known::name) != k_known.end(); }

} // namespace

std::optional<LogBelief> expected_by_rule(int name, const Subject& subject) {
    if (subject.part == Part::body)
        return is_known(name) ? std::optional{expected(known(name), subject)} : std::nullopt;
    return std::ranges::find(k_known_names, name) != k_known_names.end()
               ? std::optional{expected_frequency(name, subject)}
               : std::nullopt;
}

Rules body_rules(const Subject& subject) {
    return {{k_a0, k_cbr, k_b1_minus, k_b1_plus},
            {k_b1_minus, k_b1_plus, k_a0},
            [&subject](const Mode& mode, int name) { return evidence(mode, name, subject); },
            [](int name) { return std::log(known(name).missing); },
            body_ratios};
}

} // namespace platewright::modes
