#include "modes/estimate/candidates.hpp"
#include "modes/estimate/search.hpp"
#include "modes/estimate/subspace.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"

#include <cmath>

using namespace platewright;
using Complex = std::complex<double>;

namespace {

/// Rings at a rate of 8 kHz in white noise of variance one.
std::vector<double> ringing(std::span<const synth::Ring> rings, std::size_t count,
                            std::uint32_t seed) {
    synth::Normal normal(seed);
    std::vector<double> samples(count);
    synth::add_strike(samples, 8000, 0, rings);
    synth::add_noise(samples, 1.0, normal);
    return samples;
}

double angle_of(double hz) { return 2.0 * std::numbers::pi * hz / 8000.0; }

} // namespace

TEST_CASE("the order found is the number of rings, over many seeds") {
    const std::vector<synth::Ring> rings{
        {170, 55, 10, 0}, {222, 58, 5, 1}, {233, 62, 6, 2}, {350, 62, 30, 3}};
    int right = 0;
    for (std::uint32_t seed = 0; seed < 40; ++seed) {
        const modes::Stretches data{ringing(rings, 5000, seed), {}, 0};
        right += modes::search_components(data, {}).components.size() == rings.size();
    }
    CHECK(right >= 39);
}

TEST_CASE("a thump beside a mode stays where it tells as much as is left untold, and joins it "
          "where a tenth") {
    constexpr std::size_t count = 4000;
    const synth::Ring mode{145, 60, 60, 0.5};
    for (const double share : {1.0, 0.1}) { // of the noise's energy
        int apart = 0;
        for (std::uint32_t seed = 0; seed < 10; ++seed) {
            synth::Ring thump{140, 3, 1, 1 + 0.5 * seed};
            thump.amplitude = std::sqrt(share * count * 4 * thump.decay() / 8000);
            const std::vector<synth::Ring> rings{mode, thump};
            const modes::Stretches data{ringing(rings, count, 300 + seed), {}, 0};
            apart += modes::search_components(data, {}).components.size() == 2;
        }
        CAPTURE(share, apart);
        CHECK((share == 1.0 ? apart >= 9 : apart <= 1));
    }
}

TEST_CASE("noise alone gives no component") {
    int found = 0;
    for (std::uint32_t seed = 0; seed < 40; ++seed) {
        const modes::Stretches data{ringing({}, 5000, 100 + seed), {}, 0};
        found += static_cast<int>(modes::search_components(data, {}).components.size());
    }
    CHECK(found <= 1);
}

TEST_CASE("the subspace tells two close poles apart where one peak is seen") {
    const std::vector<synth::Ring> rings{{300, 60, 100, 0}, {306, 60, 100, 1}};
    const auto samples = ringing(rings, 4000, 7);
    const auto poles = modes::subspace_poles(samples, {angle_of(303), angle_of(25)}, 4);
    for (const synth::Ring& ring : rings) {
        double best = 1e9;
        for (const Complex& s : poles)
            best = std::min(best, std::abs(s.imag() - angle_of(ring.hz)));
        CHECK(best < angle_of(1.0));
    }
}

TEST_CASE("candidates stand where the rings are, strongest first") {
    const std::vector<synth::Ring> rings{{400, 60, 20, 0}, {900, 60, 60, 0}};
    const auto candidates = modes::find_candidates(ringing(rings, 4000, 9), 34.0, 10);
    REQUIRE(candidates.size() >= 2);
    CHECK(candidates[0].angle == Approx(angle_of(900)).margin(angle_of(3)));
    CHECK(candidates[1].angle == Approx(angle_of(400)).margin(angle_of(3)));
}

TEST_CASE("lines that stand are told from the remains of an earlier tap") {
    synth::Normal normal(4);
    std::vector<double> quiet(2000);
    synth::add_line(quiet, 8000, 50, 1.0);
    synth::add_line(quiet, 8000, 150, 0.8, 1.0);
    synth::add_strike(quiet, 8000, 0, std::vector<synth::Ring>{{350, 60, 6, 0}});
    synth::add_noise(quiet, 1.0, normal);
    const auto lines = modes::find_steady_lines(quiet);
    REQUIRE(lines.size() == 2);
    CHECK(lines[0].steady);
    for (const auto& line : lines) {
        const double hz = line.pole.imag() * 8000 / (2.0 * std::numbers::pi);
        CHECK(std::min(std::abs(hz - 50), std::abs(hz - 150)) < 0.3);
    }
}
