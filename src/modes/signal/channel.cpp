#include "modes/signal/channel.hpp"

#include "base/turning.hpp"
#include "taps/overlapping.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace platewright::modes {
namespace {

using std::numbers::pi;
using Complex = std::complex<double>;

/// Modified Bessel function of order zero: I_0(x) = Σ (x/2)^{2k} / (k!)²
double bessel_i0(double x) {
    double term = 1.0;
    double sum = 1.0;
    for (int k = 1; k < 60; ++k) {
        term *= (x / (2.0 * k)) * (x / (2.0 * k));
        sum += term;
    }
    return sum;
}

/// Kaiser low-pass of unit gain at 0 Hz: -6 dB at `cut`, stop band 80 dB down from
/// cut + transition/2 on (both in cycles a sample).
std::vector<double> low_pass(double cut, double transition) {
    constexpr double attenuation_db = 80.0;
    constexpr double beta = 0.1102 * (attenuation_db - 8.7); // Kaiser's fit for > 50 dB
    const double span = (attenuation_db - 8.0) / (2.285 * 2.0 * pi * transition);
    const long count = 2 * (static_cast<long>(std::ceil(span)) / 2) + 1;
    const auto middle = static_cast<double>(count - 1) / 2.0;
    std::vector<double> taps;
    double sum = 0.0;
    for (long k = 0; k < count; ++k) {
        const double t = static_cast<double>(k) - middle;
        const double along = t / (middle + 1.0);
        const double ideal = t == 0.0 ? 2.0 * cut : std::sin(2.0 * pi * cut * t) / (pi * t);
        taps.push_back(ideal * bessel_i0(beta * std::sqrt(1.0 - along * along)) / bessel_i0(beta));
        sum += taps.back();
    }
    for (double& tap : taps)
        tap /= sum;
    return taps;
}

ChannelPlan base_channel(double rate_hz, double low_hz, double high_hz) {
    // A longer filter would reach too far back into the strike: hence not below 6 kHz.
    const double wanted = std::max(3.2 * high_hz, 6000.0);
    ChannelPlan plan{
        low_hz, high_hz, 0.0, std::max(1L, std::lround(std::floor(rate_hz / wanted))), {}};
    if (plan.decimation == 1)
        return plan;
    const double channel_rate = rate_hz / static_cast<double>(plan.decimation);
    const double transition = (channel_rate - 2.0 * high_hz) / rate_hz;
    for (double tap : low_pass(0.5 * channel_rate / rate_hz, transition)) {
        plan.taps.emplace_back(tap, 0.0);
    }
    return plan;
}

/// A band above: brought down to [0.5, 1.5] widths at four widths of sample rate, so that mirror
/// images come from a width away, where the filter has closed.
ChannelPlan upper_channel(double rate_hz, double low_hz, double high_hz) {
    const double width = high_hz - low_hz;
    ChannelPlan plan{low_hz,
                     high_hz,
                     low_hz - 0.5 * width,
                     std::max(1L, std::lround(std::floor(rate_hz / (4.0 * width)))),
                     {}};
    const double middle_hz = 0.5 * (low_hz + high_hz);
    const auto taps = low_pass(width / rate_hz, width / rate_hz);
    const auto centre = static_cast<double>(taps.size() - 1) / 2.0;
    for (std::size_t k = 0; k < taps.size(); ++k) {
        const double angle = 2.0 * pi * middle_hz / rate_hz * (static_cast<double>(k) - centre);
        plan.taps.push_back(2.0 * taps[k] * std::polar(1.0, angle));
    }
    return plan;
}

} // namespace

std::vector<ChannelPlan> plan_channels(double rate_hz, double low_hz, double high_hz) {
    if (!(rate_hz > 0.0) || !(low_hz > 0.0) || !(high_hz > low_hz)) {
        throw std::invalid_argument("plan_channels needs 0 < low_hz < high_hz and a rate");
    }
    constexpr double single_hz = 3000.0;
    constexpr double width_hz = 2500.0;
    high_hz = std::min(high_hz, 0.47 * rate_hz);
    if (low_hz >= high_hz)
        return {};
    if (high_hz <= single_hz || rate_hz < 3.2 * width_hz + 1.0) {
        return {base_channel(rate_hz, low_hz, high_hz)};
    }
    std::vector<ChannelPlan> plans;
    double from_hz = low_hz;
    if (low_hz < width_hz) {
        plans.push_back(base_channel(rate_hz, low_hz, width_hz));
        from_hz = width_hz;
    }
    const double parts = std::max(1.0, std::ceil((high_hz - from_hz) / width_hz));
    const double width = (high_hz - from_hz) / parts;
    for (int k = 0; k < static_cast<int>(parts); ++k) {
        plans.push_back(upper_channel(rate_hz, from_hz + k * width, from_hz + (k + 1) * width));
    }
    return plans;
}

Channel take_channel(const ChannelPlan& plan, std::span<const float> recording, long origin,
                     double rate_hz) {
    const Eigen::Index count =
        std::max<Eigen::Index>(1, static_cast<Eigen::Index>(plan.taps.size()));
    // Oldest sample first, so that filter and recording run alike.
    Eigen::VectorXd real = Eigen::VectorXd::Ones(count);
    Eigen::VectorXd imag = Eigen::VectorXd::Zero(count);
    for (std::size_t k = 0; k < plan.taps.size(); ++k) {
        real(count - 1 - static_cast<Eigen::Index>(k)) = plan.taps[k].real();
        imag(count - 1 - static_cast<Eigen::Index>(k)) = plan.taps[k].imag();
    }
    const std::vector<double> samples(recording.begin(), recording.end());
    const long reach = count - 1;
    const long step = plan.decimation;
    const long size = static_cast<long>(samples.size());
    // First channel index whose filter lies in the recording (floor division for negatives).
    const long lowest = reach - origin;
    Channel channel;
    channel.first = lowest >= 0 ? (lowest + step - 1) / step : -((-lowest) / step);
    const long last = size - 1 - origin;
    const long many = last < channel.first * step ? 0 : (last - channel.first * step) / step + 1;
    const auto reached =
        taps::overlapping(samples.data() + origin + channel.first * step - reach, count, many, step)
            .transpose();
    Eigen::VectorXd values = reached * real;
    if (plan.offset_hz != 0.0) {
        const Eigen::VectorXd beside = reached * imag;
        const double turn = -2.0 * pi * plan.offset_hz / rate_hz;
        base::Turning rotation(turn * static_cast<double>(channel.first * step),
                               turn * static_cast<double>(step));
        for (long i = 0; i < many; ++i) {
            const Complex rotated = rotation.next();
            values(i) = values(i) * rotated.real() - beside(i) * rotated.imag();
        }
    }
    channel.samples.assign(values.begin(), values.end());
    return channel;
}

Complex response(const ChannelPlan& plan, Complex s) {
    if (plan.taps.empty())
        return 1.0;
    Complex sum;
    for (std::size_t k = 0; k < plan.taps.size(); ++k) {
        sum += plan.taps[k] * std::exp(-s * static_cast<double>(k));
    }
    // The analytic filter sees only the half of Re(c e^{sn}) with positive frequency.
    return plan.offset_hz != 0.0 ? 0.5 * sum : sum;
}

} // namespace platewright::modes
