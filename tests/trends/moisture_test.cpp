#include "support/catch.hpp"
#include "trends/air/moisture.hpp"
#include "trends/drift/drift.hpp"

#include <array>

using namespace platewright;
using namespace platewright::trends;

namespace {

struct TableRow {
    double temperature_f;
    std::array<double, 19> moisture_pct; // at 5, 10, … 95 % relative humidity
};

// USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), table 4-2 (also in GTR-282
// and, as table 1-6, in the Dry Kiln Operator's Manual). Values from memory, to be held against a
// printed copy; the formula's constants come from eq. 4-5 by another way.
constexpr std::array k_table{
    TableRow{30,
             {1.4, 2.6, 3.7, 4.6, 5.5, 6.3, 7.1, 7.9, 8.7, 9.5, 10.4, 11.3, 12.4, 13.5, 14.9, 16.5,
              18.5, 21.0, 24.3}},
    TableRow{70,
             {1.3, 2.5, 3.5, 4.5, 5.4, 6.2, 6.9, 7.7, 8.5, 9.2, 10.1, 11.0, 12.0, 13.1, 14.4, 16.0,
              17.9, 20.5, 23.9}},
    TableRow{90,
             {1.2, 2.3, 3.4, 4.3, 5.1, 5.9, 6.7, 7.4, 8.1, 8.9, 9.7, 10.5, 11.5, 12.6, 13.9, 15.4,
              17.3, 19.8, 23.3}},
};

} // namespace

TEST_CASE("equilibrium moisture agrees with the Wood Handbook's table within 0.1 %") {
    for (const TableRow& row : k_table)
        for (std::size_t i = 0; i < row.moisture_pct.size(); ++i) {
            const double humidity = 5.0 * static_cast<double>(i + 1);
            CAPTURE(row.temperature_f, humidity);
            CHECK(equilibrium_moisture_pct({(row.temperature_f - 32.0) / 1.8, humidity}) ==
                  Approx(row.moisture_pct.at(i)).margin(0.1));
        }
}

// FDMC Magazine, 'RH equivalent' (woodworkingnetwork.com, as read in 2026), at room temperature,
// whole percents: 30 % humidity is 6 % moisture, 50 % is 9, 65 % is 12, 80 % is 16.
TEST_CASE("equilibrium moisture agrees with what a trade magazine tells woodworkers") {
    CHECK(equilibrium_moisture_pct({21.1, 30.0}) == Approx(6.0).margin(0.5));
    CHECK(equilibrium_moisture_pct({21.1, 50.0}) == Approx(9.0).margin(0.5));
    CHECK(equilibrium_moisture_pct({21.1, 65.0}) == Approx(12.0).margin(0.5));
    CHECK(equilibrium_moisture_pct({21.1, 80.0}) == Approx(16.0).margin(0.5));
}

TEST_CASE("wood is dry in dry air, wetter in wetter air, and drier in warmer air") {
    CHECK(equilibrium_moisture_pct({20.0, 0.0}) == 0.0);
    for (double humidity = 1; humidity <= 100; ++humidity)
        CHECK(equilibrium_moisture_pct({20.0, humidity}) >
              equilibrium_moisture_pct({20.0, humidity - 1}));
    CHECK(equilibrium_moisture_pct({30.0, 50.0}) < equilibrium_moisture_pct({10.0, 50.0}));
    CHECK_THROWS_AS(equilibrium_moisture_pct({20.0, 101.0}), std::invalid_argument);
    CHECK_THROWS_AS(equilibrium_moisture_pct({-60.0, 50.0}), std::invalid_argument);
}

TEST_CASE("air that turns wet lowers a mode within the stated range, and no change does nothing") {
    const Air dry{20.0, 45.0}, wet{20.0, 58.0};
    const double moisture = equilibrium_moisture_pct(wet) - equilibrium_moisture_pct(dry);
    const Range cents = cents_from_air(dry, wet, k_mixed_response);
    CHECK(cents.low == Approx(1200.0 * std::log2(1.0 - 0.015 * moisture)));
    CHECK(cents.high == Approx(1200.0 * std::log2(1.0 - 0.010 * moisture)));
    const Range back = cents_from_air(wet, dry, k_mixed_response);
    CHECK(back.low > 0.0);
    CHECK(back.high > back.low);
    const Range none = cents_from_air(dry, dry, k_twist_response);
    CHECK(none.low == Approx(0.0).margin(1e-12));
    CHECK(none.high == Approx(0.0).margin(1e-12));
}

// The twist is shear across and along the grain, which answers to water most; the X and the ring
// bend along the grain as well. Stiffness from 12 to 6 % moisture: along the grain +9 %, in shear
// +20 % (C. C. Gerhards, Wood and Fiber 14 (1982), in the Wood Handbook's table 5-15, from memory);
// f goes with its root, and with that of the mass, 0.46 % for one % of water.
TEST_CASE("mode 1 answers to the air as a twist does, more than modes 2 and 5") {
    const Air dry{21.0, 40.0}, wet{21.0, 60.0};
    const double moisture = equilibrium_moisture_pct(wet) - equilibrium_moisture_pct(dry);
    const auto per_pct = [&](int number) {
        const Range cents = cents_from_air(dry, wet, response_of(number));
        return 0.5 * (std::exp2(cents.low / 1200.0) + std::exp2(cents.high / 1200.0) - 2.0) /
               moisture;
    };
    const double in_shear = -0.5 * std::log(1.20) / 6.0 - 0.0046;
    const double along = -0.5 * std::log(1.09) / 6.0 - 0.0046;
    CHECK(per_pct(1) == Approx(in_shear).margin(0.003));
    for (const int bent : {2, 5}) {
        CHECK(per_pct(bent) < along + 0.003);
        CHECK(per_pct(bent) > in_shear);
        CHECK(per_pct(1) < 1.3 * per_pct(bent));
    }
    CHECK(per_pct(7) == Approx(0.5 * (per_pct(1) + per_pct(2))).margin(0.002));
}

TEST_CASE("a session's air is known only when both of its figures are, and are those of a room") {
    ledger::SessionRecord session;
    session.temperature_c = 20.0;
    CHECK_FALSE(air_of(session));
    session.humidity_pct = 50.0;
    REQUIRE(air_of(session));
    CHECK(air_of(session)->humidity_pct == 50.0);
    session.temperature_c = 400.0;
    CHECK_FALSE(air_of(session));
}
