#include "bench/sound/room.hpp"

#include "base/level.hpp"
#include "base/loudest.hpp"
#include "base/stats.hpp"
#include "modes/signal/spectrum.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

namespace platewright::bench {
namespace {

constexpr double k_hum_db = 10.0;
constexpr double k_low_end_db = -12.0;
constexpr float k_silent = 1e-5F; // of full scale: a room always makes more, as in live_input.cpp
constexpr double k_low_hz = 40.0, k_high_hz = 2500.0;

/// Power density by frequency, full scale squared per Hz.
struct Density {
    double step_hz = 0;
    std::vector<double> power;

    std::size_t index(double hz) const {
        return std::min(power.size() - 1, static_cast<std::size_t>(std::lround(hz / step_hz)));
    }
    /// Of the bins between two frequencies, without those within 3 Hz of the mains' lines.
    std::vector<double> between(double low_hz, double high_hz) const {
        std::vector<double> found;
        for (std::size_t i = index(low_hz); i <= index(high_hz); ++i) {
            const double hz = static_cast<double>(i) * step_hz;
            const auto off = [hz](double mains) {
                return std::abs(hz - mains * std::round(hz / mains));
            };
            if (off(50.0) > 3.0 && off(60.0) > 3.0)
                found.push_back(power[i]);
        }
        return found;
    }
};

/// Hann windows of one second, half over one another.
Density density_of(std::span<const float> samples, double rate_hz) {
    const auto length = static_cast<std::size_t>(rate_hz) & ~std::size_t{1};
    modes::RealTransform transform(modes::fast_length(length));
    Density density{rate_hz / static_cast<double>(transform.length()), {}};
    std::vector<double> piece(length);
    double count = 0;
    for (std::size_t start = 0; start + length <= samples.size(); start += length / 2, ++count) {
        for (std::size_t i = 0; i < length; ++i) {
            const double turn =
                2.0 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(length);
            piece[i] = static_cast<double>(samples[start + i]) * (0.5 - 0.5 * std::cos(turn));
        }
        const auto bins = transform.transform(piece);
        density.power.resize(bins.size(), 0.0);
        for (std::size_t k = 0; k < bins.size(); ++k)
            density.power[k] += static_cast<double>(std::norm(bins[k]));
    }
    constexpr double window_power = 0.375; // mean square of a Hann window
    for (double& power : density.power)
        power *= 2.0 / (count * window_power * static_cast<double>(length) * rate_hz);
    return density;
}

/// How far the strongest of the mains' first four lines stands above its surroundings, dB.
double hum_over(const Density& density, double mains_hz) {
    double most = 0;
    for (int harmonic = 1; harmonic <= 4; ++harmonic) {
        const double hz = harmonic * mains_hz;
        const auto first =
            density.power.begin() + static_cast<std::ptrdiff_t>(density.index(hz - 2.0));
        const auto last =
            density.power.begin() + static_cast<std::ptrdiff_t>(density.index(hz + 2.0)) + 1;
        const std::vector<double> beside = density.between(hz - 15.0, hz + 15.0);
        if (!beside.empty() && base::median(beside) > 0)
            most = std::max(
                most, 10.0 * std::log10(*std::max_element(first, last) / base::median(beside)));
    }
    return most;
}

} // namespace

RoomReport room_report(std::span<const float> samples, double sample_rate_hz) {
    RoomReport report;
    const Density density = density_of(samples, sample_rate_hz);
    if (density.power.empty())
        return report;
    double power = 0;
    for (std::size_t i = density.index(k_low_hz); i <= density.index(k_high_hz); ++i)
        power += density.power[i] * density.step_hz;
    report.noise_dbfs = base::amplitude_to_db(std::sqrt(power));
    report.silent = base::loudest(samples) <= k_silent;
    if (report.silent)
        return report;
    for (const double mains : {50.0, 60.0}) {
        const double over = hum_over(density, mains);
        if (over > std::max(k_hum_db, report.hum_db)) {
            report.hum_hz = mains;
            report.hum_db = over;
        }
    }
    const std::vector<double> low = density.between(53.0, 67.0),
                              middle = density.between(250.0, 350.0);
    if (!low.empty() && !middle.empty() && base::median(low) > 0 && base::median(middle) > 0) {
        report.low_end_db = 10.0 * std::log10(base::median(low) / base::median(middle));
        report.reaches_60_hz = report.low_end_db >= k_low_end_db;
    }
    return report;
}

} // namespace platewright::bench
