#include "modes/ring/second_contact.hpp"

#include "modes/signal/prepared.hpp"

#include <Eigen/Dense>

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <optional>

namespace platewright::modes {
namespace {

using Complex = std::complex<double>;
using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;
using std::numbers::pi;

// Set on simulated sessions of soft contacts, whole kinds of plate left out in turn
// (docs/detection-results.md).
constexpr double k_untold_by_one = 0.005; // of a single strike's energy the fit leaves less
constexpr double k_told_again = 0.006;    // of its energy: -22 dB
// The hammer's own thump and what the hold changes in the first hundredths of a second are untold
// too, and begin anew about as well: so early a second contact has to tell the most of what is
// left. Set on single taps of damped plates by a synthesiser that is not in the repository
// (docs/detection-results.md).
constexpr double k_thump_s = 0.017;
constexpr double k_told_of_left = 0.35;

constexpr double k_window_s = 0.4;
constexpr double k_first_s = 0.004, k_last_s = 0.31,
                 k_step_s = 0.005;     // from the ring's first sample
constexpr double k_weak_db = -45;      // weaker modes are not taken out
constexpr double k_by_half_widths = 3; // a second contact's own poles lie nearer to the plate's
constexpr std::size_t k_most = 30, k_most_again = 8;

/// What noise alone lets so many free numbers tell, in whitened samples' variances: exceeded at one
/// moment in a hundred thousand, of sixty that are tried (chi-square's quantile: E. B. Wilson and
/// M. M. Hilferty, Proc. Nat. Acad. Sci. 17, 1931).
double told_of_noise(double degrees) {
    constexpr double deviations = 4.265;
    const double part = 2 / (9 * degrees);
    return degrees * std::pow(1 - part + deviations * std::sqrt(part), 3);
}

/// The strongest first; those the channel is to report.
std::vector<Mode> strongest(std::span<const Mode> of_plate, const ChannelPlan& plan) {
    std::vector<Mode> modes;
    std::ranges::copy_if(of_plate, std::back_inserter(modes), [&](const Mode& mode) {
        return mode.level_db > k_weak_db && mode.frequency_hz > plan.low_hz &&
               mode.frequency_hz < plan.high_hz;
    });
    std::ranges::sort(modes, std::ranges::greater{}, &Mode::level_db);
    modes.resize(std::min(modes.size(), k_most));
    return modes;
}

/// Adds the tap's partials that lie by none of the modes.
void add_unheard(std::span<const Partial> partials, std::vector<Mode>& modes) {
    const std::size_t heard = modes.size();
    for (const Partial& one : partials) {
        const bool is_heard =
            std::any_of(modes.begin(), modes.begin() + static_cast<std::ptrdiff_t>(heard),
                        [&](const Mode& mode) {
                            return std::abs(one.frequency_hz - mode.frequency_hz) <
                                   k_by_half_widths * mode.frequency_hz / (2 * mode.q);
                        });
        if (!is_heard)
            modes.push_back(
                {.frequency_hz = one.frequency_hz, .q = one.q, .level_db = one.level_db});
    }
}

/// Decaying sinusoids, a pair of columns a mode.
MatrixXd waves_of(const std::vector<Mode>& modes, const PreparedChannel& channel, Index samples) {
    MatrixXd waves(samples, 2 * std::ssize(modes));
    for (Index k = 0; k < std::ssize(modes); ++k) {
        const Mode& mode = modes[static_cast<std::size_t>(k)];
        const double turn = 2 * pi / channel.rate_hz;
        const Complex step = std::exp(
            Complex(-0.5 * mode.frequency_hz / mode.q, mode.frequency_hz - channel.plan.offset_hz) *
            turn);
        Complex wave = 1;
        for (Index n = 0; n < samples; ++n, wave *= step) {
            waves(n, 2 * k) = wave.real();
            waves(n, 2 * k + 1) = wave.imag();
        }
    }
    return waves;
}

} // namespace

double told_by_second_contact(const taps::Tap& tap, std::span<const Mode> of_plate,
                              const FitParams& params) {
    const ChannelPlan plan =
        plan_channels(tap.sample_rate_hz, params.low_hz, params.high_hz).front();
    const std::vector<Mode> modes = strongest(of_plate, plan);
    const auto channel = prepare(tap, plan, params.skip_s);
    if (!channel || modes.empty())
        return 0;
    const auto samples = static_cast<Index>(std::min<double>(
        static_cast<double>(channel->white.ring.size()), k_window_s * channel->rate_hz));
    const Index again = 2 * static_cast<Index>(std::min(modes.size(), k_most_again));
    const MatrixXd waves = waves_of(modes, *channel, samples);
    if (samples < 4 * (waves.cols() + again))
        return 0;
    // A small change of a pole adds n times its wave.
    MatrixXd once(samples, waves.cols() + again);
    once.leftCols(waves.cols()) = waves;
    for (Index n = 0; n < samples; ++n)
        once.block(n, waves.cols(), 1, again) =
            static_cast<double>(n) / static_cast<double>(samples) * waves.block(n, 0, 1, again);
    const MatrixXd base = Eigen::HouseholderQR<MatrixXd>(once).householderQ() *
                          MatrixXd::Identity(samples, once.cols());
    const VectorXd heard = Eigen::Map<const VectorXd>(channel->white.ring.data(), samples);
    const VectorXd left = heard - base * (base.transpose() * heard);
    const double all_left = left.squaredNorm();
    const double noise = told_of_noise(static_cast<double>(again));
    double most = 0;
    for (double at_s = k_first_s; at_s < k_last_s; at_s += k_step_s) {
        const auto at = static_cast<Index>(at_s * channel->rate_hz);
        if (samples - at < 4 * again)
            break;
        MatrixXd anew = MatrixXd::Zero(samples, again);
        anew.bottomRows(samples - at) = waves.topLeftCorner(samples - at, again);
        anew -= base *
                (base.bottomRows(samples - at).transpose() * anew.bottomRows(samples - at)).eval();
        const VectorXd along = anew.transpose() * left;
        MatrixXd square = anew.transpose() * anew;
        square.diagonal().array() += 1e-9 * square.trace(); // what the base tells already
        const double told = along.dot(square.ldlt().solve(along)) - noise;
        if (at_s > k_thump_s || told > k_told_of_left * all_left)
            most = std::max(most, told);
    }
    return most / heard.squaredNorm();
}

bool leaves_much_untold(const InputEvidence& input) {
    return input.untold > k_untold_by_one || input.room.share > 0;
}

bool was_struck_again(const FittedTap& tap, const InputEvidence& input,
                      std::span<const FittedTap> others, const FitParams& params) {
    constexpr std::size_t fewest = 2;
    if (others.size() < fewest || tap.tap == nullptr || !leaves_much_untold(input) ||
        is_in_room(others))
        return false;
    std::vector<Mode> modes = pool(others, params).modes;
    add_unheard(tap.partials, modes);
    return told_by_second_contact(*tap.tap, modes, params) > k_told_again;
}

} // namespace platewright::modes
