#include "modes/name/name.hpp"
#include "support/catch.hpp"

#include <cmath>
#include <map>
#include <random>

using namespace platewright;
using namespace platewright::modes;

namespace {

Mode heard_mode(double hz, double q, double level_db) {
    Mode mode;
    mode.frequency_hz = hz;
    mode.frequency_sd_hz = 0.3;
    mode.spread_hz = 0.8;
    mode.q = q;
    mode.q_sd = 1.0;
    mode.level_db = level_db;
    mode.taps = 6;
    return mode;
}

const Subject k_set_up{InstrumentKind::violin, Part::body, Stage::set_up, 410.0};

std::map<int, double> names_of(const Naming& naming) {
    std::map<int, double> names;
    for (const NamedMode& mode : naming.modes)
        if (mode.name)
            names[mode.name->number] = mode.mode.frequency_hz;
    return names;
}

} // namespace

// G. Bissinger, JASA 124 (2008), and J. Woodhouse, Rep. Prog. Phys. 77 (2014), from memory: a
// violin in playing order has A0 near 275, CBR near 400, B1- near 450, B1+ near 535 Hz.
TEST_CASE("the low modes of a violin like those in the literature get their names") {
    const std::vector modes{heard_mode(274, 20, -4),  heard_mode(402, 38, -13),
                            heard_mode(449, 36, -3),  heard_mode(533, 37, 0),
                            heard_mode(645, 34, -8),  heard_mode(748, 32, -9),
                            heard_mode(860, 32, -10), heard_mode(1010, 30, -9)};
    const Naming naming = name_modes(modes, k_set_up, {});
    const auto names = names_of(naming);
    REQUIRE(names.contains(k_a0));
    REQUIRE(names.contains(k_b1_minus));
    REQUIRE(names.contains(k_b1_plus));
    CHECK(names.at(k_a0) == 274);
    CHECK(names.at(k_b1_minus) == 449);
    CHECK(names.at(k_b1_plus) == 533);
    CHECK_FALSE(names.contains(5)); // no plate's names on a body
    CHECK_FALSE(naming.doubt.ask_spot);
    CHECK(mode_text(k_b1_minus) == "B1\u2212");
}

TEST_CASE("what lies elsewhere gets no body name, and a doubt is said") {
    const std::vector modes{heard_mode(690, 40, 0), heard_mode(790, 40, -2),
                            heard_mode(905, 40, -3)};
    const Naming naming = name_modes(modes, k_set_up, {});
    CHECK(names_of(naming).empty());
    CHECK_FALSE(naming.doubt.sentence.empty());
}

TEST_CASE("names live on through varnish and setting up, by what the body was") {
    const std::vector white{heard_mode(243, 24, -5), heard_mode(396, 38, -15),
                            heard_mode(470, 40, -3), heard_mode(553, 42, 0)};
    Earlier before{.modes = {}, .stage = Stage::varnished, .mass_g = 268.0};
    before.modes = {{white[0], ModeName{k_a0, 1.0, true}},
                    {white[1], ModeName{k_cbr, 1.0, true}},
                    {white[2], ModeName{k_b1_minus, 1.0, true}},
                    {white[3], ModeName{k_b1_plus, 1.0, true}}};
    const Subject varnished{InstrumentKind::violin, Part::body, Stage::varnished, 268.0};
    const std::vector now{heard_mode(242, 24, -5), heard_mode(394, 36, -15),
                          heard_mode(466, 37, -3), heard_mode(548, 38, 0)};
    const auto names = names_of(name_modes(now, varnished, std::vector{before}));
    CHECK(names.size() == 4);
    CHECK(names.at(k_cbr) == 394);
}

TEST_CASE("of simulated violins names are given to most and hardly ever to the wrong mode") {
    std::mt19937_64 random{3};
    std::normal_distribution<double> normal;
    std::uniform_real_distribution<double> uniform;
    int given = 0, wrong = 0;
    constexpr int k_violins = 60;
    for (int i = 0; i < k_violins; ++i) {
        const double minus = 455.0 * std::exp(0.06 * normal(random));
        const double plus = minus * 1.18 * std::exp(0.03 * normal(random));
        const double a0 = 275.0 * std::exp(0.035 * normal(random));
        const auto level = [&](double mean) { return mean + 4.0 * normal(random); };
        std::vector modes{heard_mode(a0, 21, level(-5)), heard_mode(minus, 37, level(-4)),
                          heard_mode(plus, 37, level(-4)),
                          heard_mode(0.88 * minus, 40, level(-14))};
        for (double hz = 600.0; hz < 1500.0; hz *= 1.0 + 0.25 * uniform(random))
            modes.push_back(heard_mode(hz, 36, level(-9)));
        const auto names = names_of(name_modes(modes, k_set_up, {}));
        const std::map<int, double> truth{
            {k_a0, a0}, {k_b1_minus, minus}, {k_b1_plus, plus}, {k_cbr, 0.88 * minus}};
        for (const auto& [name, hz] : names) {
            wrong += truth.at(name) != hz ? 1 : 0;
            given += name != k_cbr ? 1 : 0;
        }
    }
    INFO(given << " given, " << wrong << " wrong, of " << 3 * k_violins);
    CHECK(given > 0.8 * 3 * k_violins);
    CHECK(wrong <= 0.03 * 3 * k_violins);
}
