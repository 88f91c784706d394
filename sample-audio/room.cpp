#include "room.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace demo {
namespace {

constexpr double k_two_pi = 2.0 * std::numbers::pi;

/// One-pole low-pass; gain 1 at 0 Hz.
class LowPass {
public:
    LowPass(double corner_hz, double rate_hz) : keep_(std::exp(-k_two_pi * corner_hz / rate_hz)) {}

    double operator()(double x) { return held_ = keep_ * held_ + (1.0 - keep_) * x; }

private:
    double keep_;
    double held_ = 0.0;
};

/// Two-pole resonator with unit gain at its centre, to a good approximation.
class Resonator {
public:
    Resonator(double centre_hz, double width_hz, double rate_hz) {
        const double radius = std::exp(-std::numbers::pi * width_hz / rate_hz);
        const double angle = k_two_pi * centre_hz / rate_hz;
        back_one_ = 2.0 * radius * std::cos(angle);
        back_two_ = -radius * radius;
        gain_ = (1.0 - radius) *
                std::sqrt(1.0 - 2.0 * radius * std::cos(2.0 * angle) + radius * radius);
    }

    double operator()(double x) {
        const double y = gain_ * x + back_one_ * one_ + back_two_ * two_;
        two_ = one_;
        return one_ = y;
    }

private:
    double back_one_ = 0.0;
    double back_two_ = 0.0;
    double gain_ = 0.0;
    double one_ = 0.0;
    double two_ = 0.0;
};

void scale(Signal& signal, double factor) {
    for (double& x : signal) {
        x *= factor;
    }
}

std::size_t samples_in(double seconds, double rate_hz) {
    return static_cast<std::size_t>(seconds * rate_hz);
}

} // namespace

double peak(const Signal& signal) {
    double most = 0.0;
    for (const double x : signal) {
        most = std::max(most, std::abs(x));
    }
    return most;
}

double amplitude_of_db(double decibel) { return std::pow(10.0, decibel / 20.0); }

void mix(Signal& sum, const Signal& part) {
    for (std::size_t n = 0; n < sum.size(); ++n) {
        sum[n] += part[n];
    }
}

Signal room_noise(std::size_t length, double rate_hz, double rms, Random& random) {
    LowPass rumble(30.0, rate_hz);
    LowPass rumble_again(60.0, rate_hz);
    LowPass air(300.0, rate_hz);
    Signal noise(length);
    double power = 0.0;
    for (double& x : noise) {
        // Each part's weight makes up for what its filter takes away: white noise through a
        // one-pole filter keeps about pi * corner / rate of its power.
        x = 20.0 * rumble_again(rumble(random.normal())) + 3.5 * air(random.normal()) +
            0.06 * random.normal();
        power += x * x;
    }
    scale(noise, rms / std::sqrt(power / static_cast<double>(length)));
    return noise;
}

Signal mains_hum(std::size_t length, double rate_hz, double hum_hz, double amplitude,
                 Random& random) {
    // Amplitudes of harmonics 1 to 15, like those of a lamp transformer near the bench.
    constexpr std::array<double, 15> k_harmonics{1.0,  0.35, 0.5, 0.08, 0.3,  0.05, 0.25, 0.03,
                                                 0.12, 0.02, 0.1, 0.01, 0.05, 0.01, 0.04};
    std::array<double, 15> start{};
    for (double& phase : start) {
        phase = random.between(0.0, k_two_pi);
    }
    const double wander_start = random.between(0.0, k_two_pi);
    Signal hum(length);
    double turns = 0.0;
    for (std::size_t n = 0; n < length; ++n) {
        const double time_s = static_cast<double>(n) / rate_hz;
        for (std::size_t k = 0; k < k_harmonics.size(); ++k) {
            const double phase = k_two_pi * static_cast<double>(k + 1) * turns + start[k];
            hum[n] += amplitude * k_harmonics[k] * std::sin(phase);
        }
        const double wander_hz = 0.02 * std::sin(k_two_pi * time_s / 17.0 + wander_start);
        turns += (hum_hz + wander_hz) / rate_hz;
    }
    return hum;
}

Signal chair(double rate_hz, Random& random) {
    Signal sound(samples_in(0.5, rate_hz), 0.0);
    const int thumps = 2 + static_cast<int>(random.even() * 2.0);
    for (int thump = 0; thump < thumps; ++thump) {
        const double start_s = 0.02 + 0.11 * thump + random.between(0.0, 0.04);
        const double hz = random.between(55.0, 110.0);
        const double decay = std::numbers::pi * hz / random.between(3.5, 6.0);
        const double strength = random.between(0.5, 1.0);
        for (auto n = samples_in(start_s, rate_hz); n < sound.size(); ++n) {
            const double time_s = static_cast<double>(n) / rate_hz - start_s;
            sound[n] += strength * std::exp(-decay * time_s) * std::sin(k_two_pi * hz * time_s);
        }
    }
    Resonator scrape(900.0, 700.0, rate_hz);
    for (std::size_t n = 0; n < sound.size(); ++n) {
        const double along = static_cast<double>(n) / static_cast<double>(sound.size());
        sound[n] += 2.0 * std::pow(std::sin(std::numbers::pi * along), 2) * scrape(random.normal());
    }
    scale(sound, 1.0 / peak(sound));
    return sound;
}

Signal voice(double rate_hz, Random& random) {
    constexpr std::array<std::array<double, 3>, 2> k_vowels{{{730, 1090, 2440}, {270, 2290, 3010}}};
    constexpr std::array<double, 3> k_strength{1.0, 0.5, 0.25};
    const double pitch_hz = random.between(105.0, 135.0);
    const auto syllable = samples_in(0.28, rate_hz);
    Signal sound;
    double turns = 0.0;
    for (const auto& vowel : k_vowels) {
        std::vector<Resonator> formants;
        for (const double centre_hz : vowel) {
            formants.emplace_back(centre_hz, 0.08 * centre_hz + 40.0, rate_hz);
        }
        LowPass glottis(400.0, rate_hz);
        for (std::size_t n = 0; n < syllable; ++n) {
            const double along = static_cast<double>(n) / static_cast<double>(syllable);
            turns += pitch_hz * (1.0 + 0.12 * along + 0.01 * random.normal()) / rate_hz;
            const bool pulse = turns >= 1.0;
            turns -= pulse ? 1.0 : 0.0;
            const double air = glottis((pulse ? 1.0 : 0.0) + 0.004 * random.normal());
            double x = 0.0;
            for (std::size_t k = 0; k < formants.size(); ++k) {
                x += k_strength[k] * formants[k](air);
            }
            sound.push_back(x * std::pow(std::sin(std::numbers::pi * along), 0.7));
        }
    }
    scale(sound, 1.0 / peak(sound));
    return sound;
}

void microphone(Signal& signal, double rate_hz) {
    LowPass below(45.0, rate_hz);
    LowPass above(14000.0, rate_hz);
    for (double& x : signal) {
        x = above(x - below(x));
    }
}

} // namespace demo
