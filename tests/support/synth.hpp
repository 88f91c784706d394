#pragma once
#include "taps/tap.hpp"

#include <cmath>
#include <cstdint>
#include <numbers>
#include <random>
#include <span>
#include <vector>

/// A small seeded synthesiser: strikes whose truth is known. It shares no code with src/.
namespace synth {

/// A damped sinusoid a·e^(−δ t)·cos(2π f t + φ), t from the strike; Q = π f / δ.
struct Ring {
    double hz = 0;
    double q = 0;
    double amplitude = 0; ///< full scale 1
    double phase = 0;     ///< radians
    double decay() const { return std::numbers::pi * hz / q; }
};

/// Normal deviates that do not depend on the standard library's distributions (theirs differ).
class Normal {
public:
    explicit Normal(std::uint32_t seed) : engine_(seed) {}
    double uniform() { return (static_cast<double>(engine_()) + 0.5) / 4294967296.0; } ///< (0, 1)
    double operator()() {
        // Box & Muller 1958; the second deviate is left, for simplicity.
        return std::sqrt(-2.0 * std::log(uniform())) * std::cos(2.0 * std::numbers::pi * uniform());
    }

private:
    std::mt19937 engine_;
};

/// Adds one strike's ring from sample `onset` on.
inline void add_strike(std::vector<double>& sound, double rate_hz, std::size_t onset,
                       std::span<const Ring> rings) {
    for (const Ring& ring : rings) {
        for (std::size_t n = onset; n < sound.size(); ++n) {
            const double t = static_cast<double>(n - onset) / rate_hz;
            if (ring.decay() * t > 40.0)
                break;
            sound[n] += ring.amplitude * std::exp(-ring.decay() * t) *
                        std::cos(2.0 * std::numbers::pi * ring.hz * t + ring.phase);
        }
    }
}

/// Adds white noise of standard deviation `sd`; `colour` in (−1, 1) makes it first-order coloured
/// (0.9: falling towards high frequencies) with the same standard deviation.
inline void add_noise(std::vector<double>& sound, double sd, Normal& normal, double colour = 0.0) {
    const double drive = sd * std::sqrt(1.0 - colour * colour);
    double state = sd * normal();
    for (double& x : sound) {
        x += state;
        state = colour * state + drive * normal();
    }
}

/// Adds a steady line, as mains hum makes one.
inline void add_line(std::vector<double>& sound, double rate_hz, double hz, double amplitude,
                     double phase = 0.0) {
    for (std::size_t n = 0; n < sound.size(); ++n) {
        const double t = static_cast<double>(n) / rate_hz;
        sound[n] += amplitude * std::cos(2.0 * std::numbers::pi * hz * t + phase);
    }
}

inline std::vector<float> to_floats(const std::vector<double>& sound) {
    std::vector<float> out;
    out.reserve(sound.size());
    for (double x : sound)
        out.push_back(static_cast<float>(x));
    return out;
}

/// One tap with pre-roll, as the detector would cut it.
struct TapParams {
    double rate_hz = 48000;
    double pre_roll_s = 0.25;
    double length_s = 1.0; ///< after the strike
    double noise = 1e-4;   ///< standard deviation
    double colour = 0.0;   ///< as in add_noise
    double line_hz = 0.0;  ///< a steady line; 0: none
    double line = 0.0;     ///< its amplitude
};

inline platewright::taps::Tap tap(std::span<const Ring> rings, Normal& normal,
                                  const TapParams& params = {}) {
    platewright::taps::Tap tap;
    tap.sample_rate_hz = params.rate_hz;
    tap.onset_index = static_cast<std::size_t>(params.pre_roll_s * params.rate_hz);
    tap.onset_frame = static_cast<std::int64_t>(tap.onset_index);
    std::vector<double> sound(tap.onset_index +
                              static_cast<std::size_t>(params.length_s * params.rate_hz));
    add_strike(sound, params.rate_hz, tap.onset_index, rings);
    add_noise(sound, params.noise, normal, params.colour);
    if (params.line_hz > 0.0) {
        add_line(sound, params.rate_hz, params.line_hz, params.line,
                 2.0 * std::numbers::pi * normal.uniform());
    }
    tap.samples = to_floats(sound);
    double peak = 1e-8;
    for (double x : sound)
        peak = std::max(peak, std::abs(x));
    tap.peak_dbfs = 20.0 * std::log10(peak);
    tap.noise_dbfs = 20.0 * std::log10(std::max(params.noise, 1e-8));
    return tap;
}

} // namespace synth
