#include "speed/detection/sounds.hpp"
#include "taps/band.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace detection {
namespace {

constexpr double k_two_pi = 2 * std::numbers::pi;

std::size_t samples_in(double seconds) { return static_cast<std::size_t>(seconds * k_rate_hz); }

/// Second-order band-pass of unit gain at its centre (any text on digital filters).
class BandPass {
public:
    BandPass(double centre_hz, double q) {
        const double w = k_two_pi * centre_hz / k_rate_hz, alpha = std::sin(w) / (2 * q);
        gain_ = alpha / (1 + alpha);
        one_ = 2 * std::cos(w) / (1 + alpha);
        two_ = -(1 - alpha) / (1 + alpha);
    }
    double operator()(double x) {
        const double y = gain_ * (x - x2_) + one_ * y1_ + two_ * y2_;
        x2_ = x1_, x1_ = x, y2_ = y1_, y1_ = y;
        return y;
    }

private:
    double gain_, one_, two_, x1_ = 0, x2_ = 0, y1_ = 0, y2_ = 0;
};

void add_ring(Signal& sound, double at_s, double hz, double q, double amplitude) {
    const double decay = std::numbers::pi * hz / q;
    for (std::size_t n = samples_in(at_s); n < sound.size(); ++n) {
        const double t = static_cast<double>(n) / k_rate_hz - at_s;
        if (decay * t > 12)
            break;
        sound[n] += amplitude * std::exp(-decay * t) * std::sin(k_two_pi * hz * t);
    }
}

void add_burst(Signal& sound, double at_s, double decay_s, double amplitude, Random& random) {
    for (std::size_t n = samples_in(at_s); n < sound.size(); ++n) {
        const double t = static_cast<double>(n) / k_rate_hz - at_s;
        if (t > 8 * decay_s)
            break;
        sound[n] += amplitude * random.normal() * std::exp(-t / decay_s);
    }
}

/// Something dull that is hit: a few heavily damped modes and the click of the contact.
void add_hit(Signal& sound, double at_s, double low_hz, double high_hz, double low_q, double high_q,
             double strength, Random& random) {
    const int modes = 3 + static_cast<int>(random.even() * 4);
    for (int mode = 0; mode < modes; ++mode)
        add_ring(sound, at_s, random.between(low_hz, high_hz), random.between(low_q, high_q),
                 strength * random.between(0.3, 1.0));
    add_burst(sound, at_s, random.between(0.0005, 0.004), strength * random.between(0.05, 0.5),
              random);
}

/// A scraper drawn over wood some strokes long: chattering noise, and the plate sounding under it.
Signal scraping(Random& random) {
    Signal sound;
    const int strokes = 2 + static_cast<int>(random.even() * 5);
    for (int stroke = 0; stroke < strokes; ++stroke) {
        const double length_s = random.between(0.12, 0.5), chatter_hz = random.between(25, 200);
        const double depth = random.between(0, 0.8), attack_s = random.between(0.003, 0.05);
        BandPass steel(random.between(900, 5000), random.between(0.5, 1.5));
        std::vector<BandPass> plate;
        for (int mode = 0; mode < 4; ++mode)
            plate.emplace_back(random.between(90, 700), random.between(6, 40));
        const double sounding = random.between(0.2, 4);
        for (std::size_t n = 0; n < samples_in(length_s + 0.15); ++n) {
            const double t = static_cast<double>(n) / k_rate_hz;
            const double grip = std::min({1.0, t / attack_s, std::max(0.0, (length_s - t) / 0.02)});
            const double noise =
                grip * random.normal() * (1 + depth * std::sin(k_two_pi * chatter_hz * t));
            double x = steel(noise);
            for (BandPass& mode : plate)
                x += sounding * mode(noise);
            sound.push_back(x);
        }
        sound.resize(sound.size() + samples_in(random.between(0.02, 0.4)));
    }
    return sound;
}

Signal door(Random& random) {
    Signal sound(samples_in(0.9));
    const double latch_s = random.between(0.01, 0.2);
    for (int click = 0; click < 2; ++click)
        add_hit(sound, latch_s * click, 700, 2600, 4, 14, random.between(0.1, 0.5), random);
    const double slam_s = latch_s + random.between(0.03, 0.15);
    add_hit(sound, slam_s, 30, 120, 2, 7, 1, random);
    add_burst(sound, slam_s, random.between(0.01, 0.05), 0.3, random);
    return sound;
}

/// A tool laid down on the bench: it bounces.
Signal tool(Random& random) {
    Signal sound(samples_in(0.9));
    double at_s = 0, wait_s = random.between(0.06, 0.16), strength = 1;
    for (int bounce = 0; bounce < 7 && at_s < 0.7; ++bounce) {
        add_hit(sound, at_s, 250, 2000, 6, 20, strength, random);
        at_s += wait_s;
        wait_s *= random.between(0.5, 0.8);
        strength *= random.between(0.4, 0.9);
    }
    return sound;
}

Signal steps(Random& random) {
    Signal sound(samples_in(2.2));
    const double pace_s = random.between(0.45, 0.65);
    for (int step = 0; step < 3; ++step)
        add_hit(sound, pace_s * step, 45, 180, 2, 5, random.between(0.6, 1), random);
    return sound;
}

} // namespace

Signal in_band(const Signal& sound) {
    platewright::taps::Band band(40, 2500, k_rate_hz);
    Signal heard;
    heard.reserve(sound.size());
    for (const double x : sound)
        heard.push_back(static_cast<double>(band(static_cast<float>(x))));
    return heard;
}

double loudest_rms(const Signal& sound) {
    const Signal heard = in_band(sound);
    const std::size_t piece = samples_in(0.02), step = piece / 4;
    double loudest = 0;
    for (std::size_t at = 0; at + piece <= heard.size(); at += step) {
        double sum = 0;
        for (std::size_t n = at; n < at + piece; ++n)
            sum += heard[n] * heard[n];
        loudest = std::max(loudest, sum / static_cast<double>(piece));
    }
    return std::sqrt(loudest);
}

Signal steady_room(std::size_t length, Random& random) {
    const double mains_hz = random.even() < 0.5 ? 50 : 60, blade_hz = random.between(70, 190);
    Signal sound = demo::room_noise(length, k_rate_hz, 1, random);
    Signal hum = demo::mains_hum(length, k_rate_hz, mains_hz + random.between(-0.05, 0.05),
                                 random.between(0.02, 0.6), random);
    // A fan: moving air, and its blades' frequency with two multiples, unsteady.
    BandPass air(random.between(150, 900), 0.4);
    const double blown = random.between(0.5, 6), bladed = random.between(0.02, 0.3);
    double turns = 0, speed = 1;
    for (std::size_t n = 0; n < length; ++n) {
        speed += 1e-4 * (1 - speed) + 2e-6 * random.normal();
        turns += blade_hz * speed / k_rate_hz;
        double x = blown * air(random.normal());
        for (int multiple = 1; multiple <= 3; ++multiple)
            x += bladed / multiple * std::sin(k_two_pi * multiple * turns);
        sound[n] += hum[n] + x;
    }
    const Signal heard = in_band(sound);
    double power = 0;
    for (const double x : heard)
        power += x * x;
    const double scale = 1 / std::sqrt(power / static_cast<double>(length));
    for (double& x : sound)
        x *= scale;
    return sound;
}

Signal disturbance(Disturbance which, const Speakers& speakers, Random& random) {
    switch (which) {
    case Disturbance::speech:
        return speakers.say(random);
    case Disturbance::scraping:
        return scraping(random);
    case Disturbance::chair:
        return demo::chair(k_rate_hz, random);
    case Disturbance::door:
        return door(random);
    case Disturbance::tool:
        return tool(random);
    case Disturbance::steps:
        return steps(random);
    case Disturbance::thump: {
        Signal sound(samples_in(0.5));
        add_hit(sound, 0, 45, 450, 2, 9, 1, random);
        return sound;
    }
    case Disturbance::clap:
        break;
    }
    Signal sound(samples_in(0.1));
    add_burst(sound, 0, random.between(0.001, 0.012), 1, random);
    return sound;
}

Echo::Echo(Random& random) {
    const double t60_s = random.between(0.2, 0.5);
    double energy = 0;
    for (double at_s = random.between(0.002, 0.008); at_s < t60_s;
         at_s += random.between(0.0002, 0.0018)) {
        const double gain = std::pow(10, -3 * at_s / t60_s) * (random.even() < 0.5 ? -1 : 1);
        at_.push_back(samples_in(at_s));
        gain_.push_back(gain);
        energy += gain * gain;
    }
    for (double& gain : gain_)
        gain /= std::sqrt(energy);
    length_ = samples_in(t60_s);
}

Signal Echo::operator()(const Signal& sound, double direct_db) const {
    Signal heard = sound;
    heard.resize(sound.size() + length_);
    const double weight = demo::amplitude_of_db(-direct_db);
    for (std::size_t echo = 0; echo < at_.size(); ++echo)
        for (std::size_t n = 0; n < sound.size(); ++n)
            heard[at_[echo] + n] += weight * gain_[echo] * sound[n];
    return heard;
}

} // namespace detection
