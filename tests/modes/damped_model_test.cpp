#include "modes/estimate/damped_model.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"

#include <Eigen/LU>

#include <cmath>

using namespace platewright;
using modes::Component;
using Complex = std::complex<double>;

namespace {

double value_at(const std::vector<Component>& components, long n) {
    double sum = 0.0;
    for (const Component& c : components)
        sum += std::real(c.amplitude * std::exp(c.pole * static_cast<double>(n)));
    return sum;
}

std::vector<double> sampled(const std::vector<Component>& components, long first, long count) {
    std::vector<double> samples;
    for (long n = first; n < first + count; ++n)
        samples.push_back(value_at(components, n));
    return samples;
}

const std::vector<Component> k_two{{{-0.002, 0.30}, {1.0, 0.5}, false},
                                   {{-0.003, 0.33}, {-0.4, 0.8}, false}};

} // namespace

TEST_CASE("without noise the fit gives back poles and amplitudes") {
    const modes::Stretches data{sampled(k_two, 0, 3000), {}, 0};
    std::vector<Component> start = k_two;
    start[0].pole += Complex(0.0004, -0.0006);
    start[1].pole += Complex(-0.0005, 0.0008);
    const modes::DampedFit fit = modes::fit_damped(data, start);
    REQUIRE(fit.converged);
    for (std::size_t i = 0; i < 2; ++i) {
        CHECK(std::abs(fit.components[i].pole - k_two[i].pole) < 1e-9);
        CHECK(std::abs(fit.components[i].amplitude - k_two[i].amplitude) < 1e-6);
    }
}

TEST_CASE("a fit's residual is orthogonal to what it fitted: no step lowers its energy") {
    synth::Normal normal(8);
    modes::Stretches data{sampled(k_two, 0, 3000), {}, 0};
    for (double& x : data.ring)
        x += 0.05 * normal();
    const modes::DampedFit fit = modes::fit_damped(data, k_two, {.enough = 1e-9});
    double energy = 0.0;
    for (double x : modes::ring_residual(data, fit.components))
        energy += x * x;
    CHECK(energy == Approx(fit.residual_energy).epsilon(1e-8));
    for (std::size_t i = 0; i < 2; ++i) {
        for (Complex nudge :
             {Complex(1e-6, 0), Complex(-1e-6, 0), Complex(0, 1e-6), Complex(0, -1e-6)}) {
            std::vector<Component> nudged = fit.components;
            nudged[i].pole += nudge;
            double other = 0.0;
            for (double x : modes::ring_residual(data, nudged))
                other += x * x;
            CHECK(other >= energy * (1.0 - 1e-9));
        }
    }
}

TEST_CASE("a steady line is fitted over ring and quiet together") {
    const Component line{{0.0, 0.2}, {0.3, -0.1}, true};
    std::vector<Component> all = k_two;
    all.insert(all.begin(), line);
    modes::Stretches data{sampled(all, 0, 2500), sampled({line}, -1800, 1500), -1800};
    std::vector<Component> start = all;
    start[0].pole += Complex(0.0, 0.0002);
    start[1].pole += Complex(0.0003, -0.0003);
    const modes::DampedFit fit = modes::fit_damped(data, start);
    CHECK(std::abs(fit.components[0].pole - line.pole) < 1e-9);
    CHECK(std::abs(fit.components[1].pole - k_two[0].pole) < 1e-8);
}

TEST_CASE("the stated covariance is that of the Fisher matrix summed sample by sample") {
    const modes::Stretches data{sampled({k_two[0]}, 0, 2000), {}, 0};
    const modes::DampedFit fit = modes::fit_damped(data, {k_two[0]});
    Eigen::Matrix4d fisher = Eigen::Matrix4d::Zero();
    const Component& c = k_two[0];
    for (long n = 0; n < 2000; ++n) {
        const auto t = static_cast<double>(n);
        const Complex power = std::exp(c.pole * t);
        const Eigen::Vector4d slope{power.real(), -power.imag(), std::real(c.amplitude * t * power),
                                    -std::imag(c.amplitude * t * power)};
        fisher += slope * slope.transpose();
    }
    const Eigen::Matrix4d wanted = fisher.inverse();
    for (Eigen::Index i = 0; i < 4; ++i)
        CHECK(fit.inverse(i, i) == Approx(wanted(i, i)).epsilon(1e-4));
}

TEST_CASE("a fit of nothing is a wrong call, a fit without components leaves the data") {
    CHECK_THROWS_AS(modes::fit_damped({}, {}), std::invalid_argument);
    const modes::Stretches data{sampled(k_two, 0, 100), {}, 0};
    CHECK(modes::ring_residual(data, {}) == data.ring);
}
