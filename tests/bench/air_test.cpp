#include "bench/settings.hpp"
#include "bench/workbench.hpp"
#include "support/catch.hpp"
#include "support/temporary_folder.hpp"

#include <cmath>

using namespace platewright;
using namespace platewright::bench;
using platewright::test::TemporaryFolder;

namespace {

/// A back of three sessions, each of a drier day; mode 5 at 350 Hz and 110 g throughout.
struct Winter {
    TemporaryFolder folder;
    ledger::Store store{folder.path() / "ledger"};
    Workbench workbench{store, {}};

    Winter() {
        ledger::PlateRecord plate;
        plate.instrument = store.add(ledger::InstrumentRecord{.label = "Invented"});
        plate.part = modes::Part::back;
        const auto id = store.add(plate);
        for (const double humidity : {65.0, 50.0, 35.0}) {
            ledger::SessionRecord session;
            session.plate = id;
            session.begun.ms_since_epoch =
                1893456000000 - static_cast<std::int64_t>(humidity) * 86400000;
            session.mass_g = 110;
            session.temperature_c = 20;
            session.humidity_pct = humidity;
            ledger::ModeRecord mode;
            mode.mode.frequency_hz = 350;
            mode.mode.frequency_sd_hz = 0.1;
            mode.mode.spread_hz = 0.5;
            mode.mode.q = 60;
            mode.mode.q_sd = 2;
            mode.mode.taps = 5;
            mode.name = modes::ModeName{5, 0.99, true};
            mode.analysis_version = "1";
            store.set_modes(store.add(session), {mode});
        }
        workbench.open_plate(id);
    }
};

} // namespace

// From 65 to 35 % at 20 °C wood goes from 12.0 to 6.9 % moisture (Wood Handbook FPL-GTR-190, table
// 4-2): its mass falls by 4.6 %, and a mode that stood still has in truth come down.
TEST_CASE("one air is switched on and off: changes are set over with their spread, measured values "
          "stay") {
    Winter winter;
    const auto measured = winter.workbench.view();
    CHECK_FALSE(measured->in_air);
    CHECK(std::abs(measured->drift.tracks.at(0).since_beginning->hz) < 1e-9);
    winter.workbench.set_air(trends::Air{20.0, 50.0});
    const auto over = winter.workbench.view();
    REQUIRE(over->in_air);
    const auto& sessions = over->in_air->history.sessions;
    CHECK(*sessions[2].session.mass_g / *sessions[0].session.mass_g ==
          Approx(1.120 / 1.069).epsilon(0.003));
    CHECK(over->drift.tracks.at(0).since_beginning->hz < -10.0);
    CHECK(over->drift.tracks.at(0).since_beginning->hz_sd >
          2.0 * measured->drift.tracks.at(0).since_beginning->hz_sd);
    CHECK(*over->history.sessions[0].session.mass_g == 110.0);
    CHECK(over->history.sessions[0].modes[0].mode.frequency_hz == 350.0);
    winter.workbench.set_air(std::nullopt);
    CHECK(std::abs(winter.workbench.view()->drift.tracks.at(0).since_beginning->hz) < 1e-9);
}

TEST_CASE("a comparison is in one air as well") {
    Winter winter;
    winter.workbench.compare_with(winter.workbench.history()->sessions[0].session.id);
    CHECK(std::abs(*winter.workbench.view()->comparison->modes.at(0).hz) < 1e-9);
    winter.workbench.set_air(trends::Air{20.0, 50.0});
    CHECK(*winter.workbench.view()->comparison->modes.at(0).hz < -10.0);
}

TEST_CASE("the air is remembered in the ledger, for every program on it") {
    Winter winter;
    CHECK(remembered_air(winter.store).humidity_pct == 50.0);
    remember_air(winter.store, {19.5, 45.0});
    CHECK(remembered_air(winter.store).temperature_c == 19.5);
    CHECK(remembered_air(winter.store).humidity_pct == 45.0);
    CHECK_FALSE(air_from("20:120"));
    CHECK_FALSE(air_from("warm"));
}
