// Where the bench listens: in the band of the plate in front, or in what the maker chose.

#include "audio/recording.hpp"
#include "awaiting.hpp"
#include "base/failure.hpp"
#include "bench/engine.hpp"
#include "bench/sound/listening.hpp"
#include "ledger/store.hpp"
#include "morning.hpp"
#include "support/catch.hpp"
#include "support/temporary_folder.hpp"

using namespace platewright;
using bench::Engine;
using modes::InstrumentKind;

namespace {

struct TwoPlates {
    test::TemporaryFolder folder;
    ledger::Id violin = 0, cello = 0;
    TwoPlates() {
        ledger::Store store(folder.path());
        const auto plate = [&](const char* label, InstrumentKind kind) {
            const ledger::Id instrument =
                store.add(ledger::InstrumentRecord{.label = label, .kind = kind});
            return store.add(ledger::PlateRecord{.instrument = instrument, .label = label});
        };
        violin = plate("Wren back", InstrumentKind::violin);
        cello = plate("Heron back", InstrumentKind::cello);
    }
    bench::EngineParams params(const modes::BandChoice& said = {}) const {
        return {.ledger_folder = folder.path(),
                .replay = {},
                .listen_at_once = false,
                .band = said,
                .woken = {}};
    }
};

bool listens_in(const Engine& engine, double low_hz, double high_hz) {
    const modes::UsualBand wanted{low_hz, high_hz};
    return test::shown_in_time(engine, [&](const bench::Snapshot& now) {
               return now.band == wanted;
           })->band == wanted;
}

} // namespace

TEST_CASE("the bench listens where the plate's lowest mode lies, and where the maker chose") {
    const TwoPlates shop;
    {
        Engine engine(shop.params());
        engine.send(bench::command::OpenPlate{shop.cello});
        CHECK(listens_in(engine, 15, 2500));
        engine.send(bench::command::OpenPlate{shop.violin});
        CHECK(listens_in(engine, 40, 2500));
        engine.send(bench::command::ChooseBand{{.low_hz = 60, .high_hz = 5000}});
        CHECK(listens_in(engine, 60, 5000));
    }
    Engine again(shop.params());
    CHECK(listens_in(again, 60, 5000));
    again.send(bench::command::OpenPlate{shop.cello});
    CHECK(listens_in(again, 60, 5000));
    again.send(bench::command::ChooseBand{{.low_hz = 0, .high_hz = 1200}});
    CHECK(listens_in(again, 15, 1200));
}

TEST_CASE("a band said for this run goes before what is remembered, and is not remembered") {
    const TwoPlates shop;
    {
        Engine engine(shop.params({.low_hz = 100, .high_hz = 900}));
        CHECK(listens_in(engine, 100, 900));
    }
    const Engine again(shop.params());
    CHECK(listens_in(again, 40, 2500));
}

TEST_CASE("a choice that leaves less than an octave is none") {
    const modes::UsualBand usual = modes::usual_band(InstrumentKind::violin, modes::Part::back);
    CHECK(modes::band_of(InstrumentKind::violin, modes::Part::back, {.high_hz = 60}) == usual);
    CHECK(modes::band_of(InstrumentKind::violin, modes::Part::back, {.low_hz = 2000}) == usual);
    CHECK(modes::band_of(InstrumentKind::violin, modes::Part::back, {.low_hz = 600}).low_hz == 600);
}

TEST_CASE(
    "a band above half the sampling rate is heard as far as it goes, or refused in a sentence") {
    const test::TemporaryFolder folder;
    const std::filesystem::path sound = test::two_taps(folder.path()); // of 48 kHz
    const auto listens = [&](double low_hz, double high_hz) {
        auto recording = audio::Recording::open(sound);
        REQUIRE(recording);
        bench::Listening listening(std::move(*recording), {.low_hz = low_hz, .high_hz = high_hz});
        for (std::size_t taps = 0;;) {
            const auto step = listening.step();
            taps += step.taps.size();
            if (step.ended)
                return taps;
        }
    };
    CHECK(listens(40, 2500) == 2);
    CHECK(listens(40, 96000) == 2);
    CHECK_THROWS_AS(listens(23000, 96000), base::Failure);
}
