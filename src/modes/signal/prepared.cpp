#include "modes/signal/prepared.hpp"

#include "base/level.hpp"
#include "base/stats.hpp"
#include "modes/estimate/search.hpp"
#include "modes/signal/spectrum.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

namespace platewright::modes {
namespace {

using std::numbers::pi;
using Complex = std::complex<double>;

constexpr int k_whitener_order = 12; // reaches 1.5 ms back at 8 kHz
constexpr std::size_t k_fewest = 64;

// Of the strike's power: -50 dB. Damped sinusoids leave as much of real sound untold, so where no
// quiet tells of a noise that is what a fit has to reach. Where one is told it stands, however low:
// raised to this it hid a marimba's second mode (freepats). The recorded bars of
// docs/detection-results.md; tests/modes/quiet_test.cpp fails at ten times as much and at a tenth.
constexpr double k_untold_floor = 1e-5;
constexpr double k_strike_s = 0.02;

double mean_square(std::span<const double> samples) {
    double sum = 0.0;
    for (double x : samples)
        sum += x * x;
    return samples.empty() ? 0.0 : sum / static_cast<double>(samples.size());
}

/// Half the way to the farthest neighbour that is too near to be another mode. Where one pole can't
/// tell for both, the tone glides as it dies, and which poles meet it is chance: the mode lies
/// somewhere between them. Radians a sample.
double half_way_to_twin(const DampedFit& fit, std::size_t i) {
    const Component& here = fit.components[i];
    double half_way = here.joined;
    for (const Component& other : fit.components) {
        const bool both_decay = here.pole.real() < 0.0 && other.pole.real() < 0.0;
        if (both_decay && nearness(here, other) < k_one_mode && !dies_much_sooner(other, here))
            half_way = std::max(half_way, 0.5 * std::abs(here.pole.imag() - other.pole.imag()));
    }
    return half_way;
}

/// Samples of the ring worth fitting: twice as far as its energy stands out of the noise and lines
/// before it (the tail beyond tells the fit nothing), and a little. Ends at the first tenth of a
/// second of quiet: what sounds later is something else.
std::size_t worthwhile(std::span<const double> ring, std::span<const double> before,
                       double rate_hz) {
    constexpr double block_s = 0.02;
    constexpr double pause_s = 0.1;
    const auto block = static_cast<std::size_t>(std::max(16.0, block_s * rate_hz));
    const auto pause = static_cast<std::size_t>(pause_s * rate_hz);
    // Three deviations of a mean of squares of unit normals; lines beat, so theirs counts half
    // more.
    const double noise = 1.0 + 3.0 * std::sqrt(2.0 / static_cast<double>(block));
    const double quiet = noise + 1.5 * std::max(0.0, mean_square(before) - 1.0);
    std::size_t last = 0;
    for (std::size_t start = 0; start + block <= ring.size(); start += block) {
        if (mean_square(ring.subspan(start, block)) > quiet)
            last = start + block;
        if (start > last + pause)
            break;
    }
    return std::min(ring.size(), 2 * last + pause);
}

bool is_silent(std::span<const double> samples) {
    return std::all_of(samples.begin(), samples.end(), [](double x) { return std::abs(x) < 1e-9; });
}

/// The quiet before the strike without what leads up to it: a lossy codec's noise, spread ahead of
/// the strike over a block of some tens of ms, or the hand. Ends before what stands out of the rest
/// by 10 dB or more.
std::span<const double> without_lead_up(std::span<const double> before, double rate_hz) {
    constexpr double piece_s = 0.02, longest_s = 0.1, leads_up = 10;
    const auto piece = static_cast<std::size_t>(std::max(16.0, piece_s * rate_hz));
    const auto longest = static_cast<std::size_t>(longest_s * rate_hz);
    if (before.size() < longest + 4 * piece)
        return before;
    std::vector<double> usual;
    for (std::size_t at = 0; at + piece <= before.size() - longest; at += piece)
        usual.push_back(mean_square(before.subspan(at, piece)));
    std::size_t end = before.size();
    while (before.size() - end < longest &&
           mean_square(before.subspan(end - piece, piece)) > leads_up * base::median(usual))
        end -= piece;
    return before.first(end);
}

/// What the quiet before the strike tells: the noise's spectrum and the lines that stand in it.
struct Quiet {
    Whitener whitener;
    std::vector<double> white;    // the quiet itself, whitened
    std::vector<Component> lines; // amplitudes at white's first sample
};

/// The same samples without the lines.
std::vector<double> without_lines(std::span<const double> samples, const Quiet& quiet) {
    const auto reach = static_cast<double>(quiet.whitener.taps.size() - 1);
    std::vector<Component> lines = quiet.lines;
    for (Component& line : lines)
        line.amplitude *= std::exp(-line.pole * reach) / response(quiet.whitener, line.pole);
    return ring_residual({{samples.begin(), samples.end()}, {}, 0}, lines);
}

/// Learnt twice where there are lines: several close together would pass for coloured noise, and
/// the whitener would hide them instead of the fit seeing them.
Quiet learn_quiet(std::span<const double> before) {
    Quiet quiet;
    quiet.whitener = learn_whitener(before, k_whitener_order);
    quiet.white = whitened(quiet.whitener, before);
    quiet.lines = find_steady_lines(quiet.white);
    if (quiet.lines.empty())
        return quiet;
    quiet.whitener = learn_whitener(without_lines(before, quiet), k_whitener_order);
    quiet.white = whitened(quiet.whitener, before);
    quiet.lines = find_steady_lines(quiet.white);
    return quiet;
}

/// Without quiet to learn from the noise is learnt from the ring's last quarter, where the
/// whitener's running median steps over what still rings; but not after digital silence: what rings
/// on without any noise would be taken for noise, and its strongest mode be whitened away.
Quiet quiet_of(std::span<const double> before, std::span<const double> ring,
               double least_variance) {
    if (is_silent(before) && !before.empty())
        return {learn_whitener({}, 0, least_variance), {}, {}};
    if (before.size() < 2 * k_fewest)
        return {
            learn_whitener(ring.last(ring.size() / 4), k_whitener_order, least_variance), {}, {}};
    return learn_quiet(before);
}

} // namespace

std::optional<PreparedChannel> prepare(const taps::Tap& tap, const ChannelPlan& plan,
                                       double skip_s) {
    PreparedChannel out;
    out.plan = plan;
    out.recording_rate_hz = tap.sample_rate_hz;
    out.rate_hz = tap.sample_rate_hz / static_cast<double>(plan.decimation);
    const long skip = std::lround(skip_s * tap.sample_rate_hz);
    const long origin = static_cast<long>(tap.onset_index) + skip;
    if (origin >= static_cast<long>(tap.samples.size()))
        return std::nullopt;
    const Channel channel = take_channel(plan, tap.samples, origin, tap.sample_rate_hz);
    const std::span<const double> all(channel.samples);
    // An onset may be found late by a few ms; none of the strike may pass for quiet.
    const long guard = skip + std::lround(0.004 * tap.sample_rate_hz);
    const long before_end = -(guard / plan.decimation) - channel.first;
    const long ring_start = std::max(0L, -channel.first);
    if (ring_start + static_cast<long>(k_fewest) > static_cast<long>(all.size()))
        return std::nullopt;
    const auto before =
        without_lead_up(all.first(static_cast<std::size_t>(std::max(0L, before_end))), out.rate_hz);
    const auto ring = all.subspan(static_cast<std::size_t>(ring_start));
    const auto in_strike = static_cast<std::size_t>(k_strike_s * out.rate_hz);
    const double least_variance =
        k_untold_floor * mean_square(ring.first(std::min(ring.size(), in_strike)));
    Quiet quiet = quiet_of(before, ring, least_variance);
    out.whitener = quiet.whitener;
    const auto reach = static_cast<long>(out.whitener.taps.size()) - 1;
    // The whitener may draw on the last samples before the ring's first, as the filter does.
    const long lead = std::min(reach, ring_start);
    out.white.ring =
        whitened(out.whitener, all.subspan(static_cast<std::size_t>(ring_start - lead)));
    const auto contact_from = static_cast<std::size_t>(std::max(0L, before_end));
    out.contact =
        whitened(out.whitener,
                 all.subspan(contact_from,
                             static_cast<std::size_t>(ring_start - lead + reach) - contact_from));
    out.origin_s = static_cast<double>(skip) / tap.sample_rate_hz;
    out.ring_first = channel.first + ring_start - lead + reach;
    out.white.before = std::move(quiet.white);
    out.white.before_first = channel.first + reach - out.ring_first;
    out.lines = std::move(quiet.lines);
    for (Component& line : out.lines)
        line.amplitude *= std::exp(line.pole * -static_cast<double>(out.white.before_first));
    out.white.ring.resize(worthwhile(out.white.ring, out.white.before, out.rate_hz));
    if (out.white.ring.size() < k_fewest)
        return std::nullopt;
    return out;
}

LocalNoise::LocalNoise(const std::vector<double>& residual, const DampedFit& fit) {
    RealTransform transform(fast_length(residual.size()));
    step_ = 2.0 * pi / static_cast<double>(transform.length());
    padding_ = static_cast<double>(transform.length()) / static_cast<double>(residual.size());
    for (const auto& bin : transform.transform(residual)) {
        power_.push_back(static_cast<double>(std::norm(bin)) /
                         static_cast<double>(residual.size()));
    }
    for (const Component& c : fit.components)
        angles_.push_back(c.pole.imag());
}

double LocalNoise::mean_around(double angle, double degrees) const {
    const auto half_width =
        std::lround(degrees * padding_); // zero padding adds bins but no degrees of freedom
    const long middle = std::lround(angle / step_);
    const long from = std::max(1L, middle - half_width);
    const long to = std::min(static_cast<long>(power_.size()) - 1, middle + half_width + 1);
    double sum = 0.0;
    for (long k = from; k < to; ++k)
        sum += power_[static_cast<std::size_t>(k)];
    // Each fitted component has taken four numbers, two bins' worth, out of the residual.
    const double all = static_cast<double>(to - from) / padding_;
    double freedom = all;
    for (double other : angles_) {
        if (std::abs(other - angle) < static_cast<double>(half_width) * step_)
            freedom -= 2.0;
    }
    return std::max(1e-6, sum / padding_ / std::max({4.0, 0.3 * all, freedom}));
}

double LocalNoise::variance_at(double angle) const {
    // Close by, what is left is noise, or a sign that the model is wrong there (one mode where
    // there are two, beating lines): then it counts alone. Noise alone comes to three times its
    // mean once in a thousand.
    constexpr double wide = 24, close = 4, misfit = 3;
    const double around = mean_around(angle, wide), here = mean_around(angle, close);
    return here > misfit * around ? here : around;
}

Estimate estimate(const PreparedChannel& channel, const DampedFit& fit, std::size_t i,
                  const LocalNoise& noise) {
    const Component& c = fit.components[i];
    const auto at = fit.first_parameter[i];
    const double variance = noise.variance_at(c.pole.imag());
    const Eigen::Matrix4d covariance = variance * fit.inverse.block<4, 4>(at, at);
    const double rate = channel.rate_hz;
    const double offset = 2.0 * pi * channel.plan.offset_hz;
    const Complex pole_per_s{c.pole.real() * rate, c.pole.imag() * rate + offset};

    Estimate e;
    e.decay = std::max(1e-9, -pole_per_s.real());
    e.decay_sd = rate * std::sqrt(covariance(2, 2));
    e.twin = rate * half_way_to_twin(fit, i);
    Partial& p = e.partial;
    p.frequency_hz = pole_per_s.imag() / (2.0 * pi);
    p.frequency_sd_hz = std::hypot(rate * std::sqrt(covariance(3, 3)), e.twin) / (2.0 * pi);
    p.q = pi * p.frequency_hz / e.decay;
    p.q_sd = p.q * std::hypot(e.decay_sd / e.decay, p.frequency_sd_hz / p.frequency_hz);

    // Back through the filters and to the strike.
    const Complex gain = response(channel.whitener, c.pole) *
                         response(channel.plan, pole_per_s / channel.recording_rate_hz);
    const auto first = static_cast<double>(channel.ring_first);
    const Complex turn = std::exp(-c.pole * first - pole_per_s * channel.origin_s);
    const Complex amplitude = c.amplitude / gain * turn;
    // d ln(amplitude) = d(a + jb)/c - delay · d(pole)
    const double size = std::norm(c.amplitude);
    const double re = c.amplitude.real() / size;
    const double im = c.amplitude.imag() / size;
    const double delay = channel.origin_s * rate + first;
    const Eigen::Vector4d to_log_level{re, im, -delay, 0.0};
    const Eigen::Vector4d to_phase{-im, re, 0.0, -delay};
    p.level_dbfs = base::amplitude_to_db(std::abs(amplitude));
    p.level_sd_db = 20.0 / std::numbers::ln10 *
                    std::sqrt(std::max(0.0, to_log_level.dot(covariance * to_log_level)));
    p.phase_rad = std::arg(amplitude);
    p.phase_sd_rad = std::sqrt(std::max(0.0, to_phase.dot(covariance * to_phase)));
    return e;
}

void keep_reportable(std::vector<Partial>& partials, double floor_db, double skip_s) {
    if (partials.empty())
        return;
    std::sort(partials.begin(), partials.end(),
              [](const Partial& a, const Partial& b) { return a.frequency_hz < b.frequency_hz; });
    double top = -std::numeric_limits<double>::infinity();
    for (Partial& p : partials) {
        const double decay = pi * p.frequency_hz / p.q;
        p.level_db = p.level_dbfs - 20.0 / std::numbers::ln10 * decay * skip_s;
        top = std::max(top, p.level_db);
    }
    for (Partial& p : partials)
        p.level_db -= top;
    const std::vector<Partial> all = partials;
    const auto unfit = [&](const Partial& p) {
        if (p.level_db < floor_db)
            return true;
        return std::any_of(all.begin(), all.end(), [&](const Partial& strong) {
            constexpr double satellite_db = 26.0;
            const double width = 3.0 * strong.frequency_hz / strong.q;
            return strong.level_db > p.level_db + satellite_db &&
                   std::abs(strong.frequency_hz - p.frequency_hz) < width;
        });
    };
    std::erase_if(partials, unfit);
}

} // namespace platewright::modes
