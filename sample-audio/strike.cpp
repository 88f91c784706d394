#include "strike.hpp"

#include <cmath>
#include <complex>
#include <numbers>

namespace demo {
namespace {

Signal contact_force(double contact_ms, double rate_hz) {
    const auto length = static_cast<std::size_t>(contact_ms * 1e-3 * rate_hz);
    Signal force(length);
    for (std::size_t n = 0; n < length; ++n) {
        const double along = (static_cast<double>(n) + 0.5) / static_cast<double>(length);
        force[n] = std::pow(std::sin(std::numbers::pi * along), 1.5);
    }
    return force;
}

/// Adds one mode's answer to the force; returns its amplitude at the first sample.
double add_mode(Signal& sound, const Signal& force, double gain, const Sounded& mode,
                double rate_hz) {
    const double angle = 2.0 * std::numbers::pi * mode.hz / rate_hz;
    const std::complex<double> pole =
        std::polar(std::exp(-std::numbers::pi * mode.hz / mode.q / rate_hz), angle);
    const double at_rest = (pole / (1.0 - pole)).imag(); // sum of the impulse response
    double one = 0.0;
    double two = 0.0;
    std::complex<double> drive = 0.0;
    std::complex<double> back = 1.0;
    for (std::size_t n = 0; n < sound.size(); ++n) {
        const double push = n < force.size() ? force[n] : 0.0;
        drive += push * back;
        back = n < force.size() ? back / pole : back;
        // Impulse response: the imaginary part of pole^(n + 1). A plate sounds by its acceleration,
        // and while the hammer pushes that is the push less the spring's share: no net pressure
        // is left over, or any microphone's low end would ring with it.
        const double y = 2.0 * pole.real() * one - std::norm(pole) * two + push * pole.imag();
        sound[n] += gain * (push * at_rest - y);
        two = one;
        one = y;
    }
    return std::abs(gain * drive * pole);
}

void add_click(Signal& sound, double level, double rate_hz, Random& random) {
    const double decay = 1.0 / (0.0012 * rate_hz);
    for (std::size_t n = 0; n < sound.size() && static_cast<double>(n) * decay < 12.0; ++n) {
        sound[n] += level * random.normal() * std::exp(-static_cast<double>(n) * decay);
    }
}

} // namespace

Hold hold_of_session(Random& random) {
    return {.pitch = 1.0 + k_pitch_scatter_session * random.normal(),
            .loss = std::exp(k_loss_scatter_session * random.normal())};
}

Strike strike(const Session& session, const std::string& spot, const std::vector<Hold>& holds,
              double rate_hz, Random& random) {
    Strike made;
    made.sound.assign(static_cast<std::size_t>(session.sound_s * rate_hz), 0.0);
    const Signal force = contact_force(session.contact_ms * random.between(0.88, 1.12), rate_hz);
    for (std::size_t k = 0; k < session.modes.size(); ++k) {
        const Mode& mode = session.modes[k];
        Sounded sounded;
        sounded.number = mode.number;
        sounded.hz = mode.hz * holds[k].pitch * (1.0 + k_pitch_scatter_tap * random.normal());
        sounded.q = mode.q / (holds[k].loss * std::exp(k_loss_scatter_tap * random.normal()));
        // The hammer never lands on quite the same point.
        const double shape = mode.shape.at(spot) * (1.0 + 0.06 * random.normal());
        const double gain = shape * mode.radiates * mode.hz;
        sounded.amplitude = add_mode(made.sound, force, gain, sounded, rate_hz);
        made.sounded.push_back(sounded);
    }
    add_click(made.sound, 0.03 * peak(made.sound), rate_hz, random);
    const double factor = 1.0 / peak(made.sound);
    for (double& x : made.sound) {
        x *= factor;
    }
    for (Sounded& sounded : made.sounded) {
        sounded.amplitude *= factor;
    }
    return made;
}

} // namespace demo
