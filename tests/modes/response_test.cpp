// H1 of a plate whose response is known in closed form: a sum of damped resonators, struck by
// pushes of known shape. h[n] = Σ a e^{−δ n T} sin(ω n T)  has  H(z) = Σ a r sin θ z⁻¹ / (1 − 2 r
// cos θ z⁻¹ + r² z⁻²), r = e^{−δ T}, θ = ω T.
#include "modes/signal/response.hpp"
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>
#include <stdexcept>

using namespace platewright;
using modes::ForceVerdict;

namespace {

struct Resonance {
    double hz, q, amplitude;
};
constexpr std::array k_resonances{Resonance{114.0, 52.0, 2e-4}, Resonance{168.0, 56.0, 6e-4},
                                  Resonance{233.0, 60.0, 3e-4}, Resonance{352.0, 61.0, 9e-4}};

std::complex<double> true_response(double hz, double rate) {
    const std::complex<double> z1 = std::polar(1.0, -2.0 * std::numbers::pi * hz / rate);
    std::complex<double> sum;
    for (const Resonance& one : k_resonances) {
        const double r = std::exp(-std::numbers::pi * one.hz / one.q / rate);
        const double turn = 2.0 * std::numbers::pi * one.hz / rate;
        sum += one.amplitude * r * std::sin(turn) * z1 /
               (1.0 - 2.0 * r * std::cos(turn) * z1 + r * r * z1 * z1);
    }
    return sum;
}

struct Struck {
    std::vector<float> force, heard;
    std::size_t onset;
};

/// A half-sine push of `newton` for `push_s`, and what the plate answers.
Struck struck(double rate, double newton, double push_s, double full_scale_n, double noise,
              std::mt19937& chance, double again_at_s = 0.0) {
    Struck strike;
    const auto frames = static_cast<std::size_t>(1.4 * rate);
    strike.onset = static_cast<std::size_t>(0.25 * rate);
    std::vector<double> force(frames), heard(frames);
    const auto push = static_cast<std::size_t>(push_s * rate);
    for (std::size_t i = 0; i < push; ++i) {
        const double shape =
            std::sin(std::numbers::pi * static_cast<double>(i) / static_cast<double>(push));
        force[strike.onset + i] = newton * shape;
        if (again_at_s > 0.0)
            force[strike.onset + static_cast<std::size_t>(again_at_s * rate) + i] +=
                0.4 * newton * shape;
    }
    for (const Resonance& one : k_resonances) {
        const double r = std::exp(-std::numbers::pi * one.hz / one.q / rate);
        const double turn = 2.0 * std::numbers::pi * one.hz / rate;
        double y1 = 0.0, y2 = 0.0;
        for (std::size_t n = 1; n < frames; ++n) {
            const double y = one.amplitude * r * std::sin(turn) * force[n - 1] +
                             2.0 * r * std::cos(turn) * y1 - r * r * y2;
            y2 = y1;
            y1 = y;
            heard[n] += y;
        }
    }
    std::normal_distribution<double> hiss(0.0, noise), offset(0.0, 1e-4);
    for (std::size_t n = 0; n < frames; ++n) {
        strike.force.push_back(
            static_cast<float>(force[n] / full_scale_n + 0.002 + offset(chance)));
        strike.heard.push_back(static_cast<float>(heard[n] + hiss(chance)));
    }
    return strike;
}

} // namespace

TEST_CASE("The response to a known force is the plate's own, at each mode and between them") {
    for (const double rate : {44100.0, 48000.0, 96000.0}) {
        std::mt19937 chance(11);
        modes::ResponseEstimate estimate(rate, 220.0);
        std::uniform_real_distribution<double> strength(20.0, 120.0), length(0.0006, 0.0012);
        constexpr int strikes = 8;
        for (int i = 0; i < strikes; ++i) {
            const Struck one = struck(rate, strength(chance), length(chance), 220.0, 2e-5, chance);
            REQUIRE(estimate.add({one.force, one.heard, one.onset}) == ForceVerdict::good);
        }
        const modes::Response response = estimate.result();
        CHECK(response.strikes == strikes);
        CHECK(response.driven_to_hz > 700.0);
        for (const double hz : {100.0, 114.0, 140.0, 168.0, 200.0, 233.0, 300.0, 352.0, 400.0}) {
            const std::size_t k = response.bin(hz);
            const std::complex<double> truth =
                true_response(static_cast<double>(k) * response.step_hz, rate);
            // Five standard deviations of H1's random error, and what a sampled push of some dozen
            // frames and single precision leave.
            const double allowed = 5.0 * response.relative_sd(k) + 0.004;
            INFO("rate " << rate << ", " << hz << " Hz: " << std::abs(response.h1[k]) << " for "
                         << std::abs(truth) << ", coherence " << response.coherence[k]);
            CHECK(std::abs(response.h1[k] - truth) <= allowed * std::abs(truth));
        }
        CHECK(response.coherence[response.bin(352.0)] > 0.999);
    }
}

TEST_CASE("Noise in the sound does not bias H1, and coherence tells it") {
    std::mt19937 chance(3);
    modes::ResponseEstimate estimate(48000.0, 220.0);
    for (int i = 0; i < 40; ++i) {
        const Struck one = struck(48000.0, 60.0, 0.0008, 220.0, 0.5, chance);
        estimate.add({one.force, one.heard, one.onset});
    }
    const modes::Response response = estimate.result();
    const std::size_t k = response.bin(114.0); // the weakest mode
    const std::complex<double> truth =
        true_response(static_cast<double>(k) * response.step_hz, 48000.0);
    CHECK(response.coherence[k] < 0.99);
    CHECK(response.relative_sd(k) > 0.005);
    CHECK(std::abs(response.h1[k] - truth) <
          4.0 * response.relative_sd(k) * std::abs(truth) + 0.004 * std::abs(truth));
    // Where nothing answers, the two have nothing in common: γ² is near 1/n.
    double mean = 0.0;
    for (std::size_t i = response.bin(600.0); i < response.bin(700.0); ++i)
        mean += response.coherence[i];
    mean /= static_cast<double>(response.bin(700.0) - response.bin(600.0));
    CHECK(mean == Approx(1.0 / 40.0).margin(0.02));
}

TEST_CASE("A push that is clipped, struck twice or not there does not count") {
    std::mt19937 chance(5);
    modes::ResponseEstimate estimate(48000.0, 220.0);
    CHECK(estimate.result().strikes == 0);
    Struck one = struck(48000.0, 60.0, 0.0008, 220.0, 2e-5, chance, 0.03);
    CHECK(estimate.add({one.force, one.heard, one.onset}) == ForceVerdict::struck_twice);
    one = struck(48000.0, 60.0, 0.0008, 220.0, 2e-5, chance);
    std::vector<float> over = one.force;
    over[one.onset + 15] = 1.0F;
    CHECK(estimate.add({over, one.heard, one.onset}) == ForceVerdict::clipped);
    std::vector<float> none(one.force.size(), 0.0F);
    CHECK(estimate.add({none, one.heard, one.onset}) == ForceVerdict::none);
    CHECK(estimate.result().strikes == 0);
    CHECK(estimate.result().h1.empty());
    CHECK_THROWS_AS(estimate.add({std::span(none).first(5), one.heard, 1}), std::invalid_argument);
    CHECK_THROWS_AS(estimate.add({one.force, one.heard, one.force.size()}), std::invalid_argument);
    CHECK(estimate.add({one.force, one.heard, one.onset}) == ForceVerdict::good);
}
