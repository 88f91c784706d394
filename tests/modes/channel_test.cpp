#include "modes/signal/channel.hpp"
#include "modes/signal/whitener.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"

#include <cmath>

using namespace platewright;
using Complex = std::complex<double>;

namespace {

constexpr double k_two_pi = 6.283185307179586;

} // namespace

TEST_CASE("channels cover the band without gap, and each is narrow") {
    for (double rate : {8000.0, 44100.0, 48000.0, 96000.0, 192000.0, 384000.0}) {
        const auto plans = modes::plan_channels(rate, 40, 20000);
        REQUIRE_FALSE(plans.empty());
        CHECK(plans.front().low_hz == 40);
        CHECK(plans.back().high_hz == Approx(std::min(20000.0, 0.47 * rate)));
        for (std::size_t i = 1; i < plans.size(); ++i)
            CHECK(plans[i].low_hz == Approx(plans[i - 1].high_hz));
    }
}

TEST_CASE("a damped sinusoid stays one in a channel, times the filter's response") {
    constexpr double rate = 48000;
    for (double hz : {300.0, 1800.0, 3300.0, 9000.0, 19000.0}) {
        const Complex s{-30.0 / rate, k_two_pi * hz / rate};
        const Complex c{0.3, 0.2};
        std::vector<float> recording;
        for (int n = 0; n < 9000; ++n)
            recording.push_back(
                static_cast<float>(std::real(c * std::exp(s * static_cast<double>(n - 4000)))));
        for (const modes::ChannelPlan& plan : modes::plan_channels(rate, 40, 20000)) {
            if (hz < plan.low_hz || hz >= plan.high_hz)
                continue;
            const modes::Channel channel = modes::take_channel(plan, recording, 4000, rate);
            const auto step = static_cast<double>(plan.decimation);
            const Complex pole = (s - Complex(0, k_two_pi * plan.offset_hz / rate)) * step;
            const Complex amplitude = c * modes::response(plan, s);
            double worst = 0.0;
            for (std::size_t i = 0; i < channel.samples.size(); ++i) {
                const double m = static_cast<double>(channel.first) + static_cast<double>(i);
                const double wanted = std::real(amplitude * std::exp(pole * m));
                worst = std::max(worst, std::abs(channel.samples[i] - wanted));
            }
            CAPTURE(hz, plan.low_hz, plan.offset_hz);
            // Unit gain, at the sample the filter's middle stands at.
            const double delay = 0.5 * static_cast<double>(plan.taps.size() - 1);
            CHECK(std::abs(amplitude) ==
                  Approx(std::abs(c) * std::exp(-s.real() * delay)).epsilon(0.003));
            CHECK(worst < 2e-4 * 13.0); // 80 dB stop band; the record begins 13 times as strong
        }
    }
}

TEST_CASE("whitened noise is white and of variance one, whatever its colour") {
    synth::Normal normal(31);
    for (double colour : {0.0, 0.9, -0.7}) {
        std::vector<double> quiet(4000);
        synth::add_noise(quiet, 0.01, normal, colour);
        std::vector<double> fresh(20000);
        synth::add_noise(fresh, 0.01, normal, colour);
        const auto whitener = modes::learn_whitener(quiet, 12);
        const auto white = modes::whitened(whitener, fresh);
        REQUIRE(white.size() == fresh.size() - 12);
        double variance = 0, neighbour = 0;
        for (std::size_t n = 0; n + 1 < white.size(); ++n) {
            variance += white[n] * white[n] / static_cast<double>(white.size());
            neighbour += white[n] * white[n + 1] / static_cast<double>(white.size());
        }
        CAPTURE(colour);
        CHECK(variance == Approx(1.0).margin(0.12));
        CHECK(neighbour == Approx(0.0).margin(0.08));
    }
}

TEST_CASE("silence and too little quiet still give a usable filter") {
    const auto silent = modes::learn_whitener(std::vector<double>(500, 0.0), 12);
    for (double tap : silent.taps)
        CHECK(std::isfinite(tap));
    CHECK(modes::learn_whitener(std::vector<double>(10, 0.1), 12).taps.size() == 1);
    CHECK(modes::whitened({{1.0, 0.5}}, std::vector<double>{1.0}).empty());
}

TEST_CASE(
    "what sways far below the band, 60 dB over the noise, leaves the noise's level as it is") {
    // A draught or the building: less than two swings in all that is heard.
    synth::Normal normal(32);
    std::vector<double> quiet(4000);
    synth::add_noise(quiet, 1e-4, normal);
    for (std::size_t n = 0; n < quiet.size(); ++n)
        quiet[n] += 0.1 * std::sin(k_two_pi * 1.37 * static_cast<double>(n) / 4000);
    const auto whitener = modes::learn_whitener(quiet, 12);
    for (const double cycles : {0.1, 0.2, 0.3, 0.4})
        CHECK(1e-4 * std::abs(modes::response(whitener, {0, k_two_pi * cycles})) ==
              Approx(1).epsilon(0.2));
}
