#include "modes/name/expectation.hpp"
#include "modes/name/rules.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::modes {
namespace {

double log_belief(double x, const LogBelief& belief) {
    const double z = (x - belief.centre) / belief.sd;
    return -0.5 * std::min(z * z, 30.0);
}

// Against a ratio spread evenly over an octave and a half: normalised by the belief's height.
double against_any_plate(double x, const LogBelief& belief) {
    return log_belief(x, belief) - std::log(belief.sd * 2.5066 / 1.0);
}

/// Order and ratios of the modes taken for 1, 2 and 5.
double plate_ratios(std::span<const std::optional<double>> log_hz, const Subject& subject) {
    double sum = 0.0;
    if (log_hz[0] && log_hz[1])
        sum += against_any_plate(*log_hz[1] - *log_hz[0], expected_ratio_2_to_1(subject));
    if (log_hz[1] && log_hz[2])
        sum += against_any_plate(*log_hz[2] - *log_hz[1], expected_ratio_5_to_2());
    return sum;
}

} // namespace

Rules plate_rules(std::span<const Mode> modes, const Subject& subject,
                  std::span<const SpotProfile> profiles) {
    return {{k_known_names.begin(), k_known_names.end()},
            {5, 2, 1}, // mode 5 first: it is the one makers steer by
            [&subject, profiles](const Mode& mode, int name) {
                return log_evidence(mode, name, subject, profiles);
            },
            [modes](int name) { return log_missing(name, modes); },
            [&subject](std::span<const std::optional<double>> log_hz) {
                return plate_ratios(log_hz, subject);
            }};
}

} // namespace platewright::modes
