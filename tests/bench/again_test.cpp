// Kept recordings analysed anew: the same analysis says the same, another is set beside it.
#include "bench/sound/again.hpp"
#include "bench/workbench.hpp"
#include "ledger/tables/database.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"
#include "support/temporary_folder.hpp"

using namespace platewright;
using bench::HeardTap;

namespace {

const std::vector<synth::Ring> k_heard_back{{115, 50, 0.05, 0.3}, {170, 58, 0.10, 1.0},
                                            {222, 60, 0.03, 0.2}, {234, 62, 0.03, 2.0},
                                            {355, 62, 0.20, 0.7}, {410, 64, 0.05, 0.1}};

/// A ledger with one session of four taps, the maker's word on its second mode among its names.
struct AgainBench {
    test::TemporaryFolder folder;
    ledger::Store store{folder.path() / "ledger"};
    ledger::Id plate = store.add(ledger::PlateRecord{
        .instrument = store.add(ledger::InstrumentRecord{.label = "Wren"}), .label = "Wren back"});

    AgainBench() {
        bench::Workbench bench{store, {}};
        bench.begin_session({.plate = plate, .begun = {86'400'000}, .mass_g = 110});
        for (std::uint32_t seed = 1; seed <= 4; ++seed) {
            synth::Normal normal(seed);
            HeardTap tap{synth::tap(k_heard_back, normal), {}};
            tap.partials = modes::fit_tap(tap.tap).partials;
            bench.keep(tap);
        }
        bench.settle();
        bench.name_mode(234, 7);
    }

    /// As if an earlier version of the program had found all of it, a little off.
    void age() {
        ledger::Database database{folder.path() / "ledger" / "ledger.sqlite",
                                  ledger::Database::Access::read_write};
        database.run("UPDATE reading SET analysis_version = 'earlier'; "
                     "UPDATE mode_set SET analysis_version = 'earlier'; "
                     "UPDATE mode SET frequency_hz = frequency_hz + 0.25; "
                     "UPDATE partial SET frequency_hz = frequency_hz + 0.25");
    }
    ledger::SessionHistory session() const { return store.history(plate)->sessions.at(0); }
};

/// A board tapped four times, its bending along pointed out by the maker and its twist typed only.
struct Board {
    test::TemporaryFolder folder;
    ledger::Store store{folder.path() / "ledger"};
    ledger::Id test = 0;

    Board() {
        ledger::WoodTestRecord record{.wood = store.add(ledger::WoodRecord{.label = "Spruce 7"}),
                                      .at = {86'400'000}};
        record.piece = ledger::Piece::board;
        record.along_mm = 400;
        record.across_mm = 190;
        record.thickness_mm = 4.2;
        record.mass_g = 137.5;
        const std::vector modes{
            ledger::WoodModeRecord{ledger::WoodMotion::along, 170.3, 0.2, 60.0, {}, 4, "earlier"},
            ledger::WoodModeRecord{ledger::WoodMotion::twist, 61.0, 0.1, {}, {}, 0, ""}};
        test = store.add(record, modes);
        for (std::uint32_t seed = 1; seed <= 4; ++seed) {
            synth::Normal normal(seed);
            store.add_wood_tap(test, {.at = {86'400'000 + seed}}, synth::tap(k_heard_back, normal));
        }
    }
    ledger::WoodHistory wood() const { return store.wood_stock().at(0); }
};

const ledger::WoodModeRecord* find(const std::vector<ledger::WoodModeRecord>& modes,
                                   ledger::WoodMotion motion) {
    const auto found = std::find_if(modes.begin(), modes.end(),
                                    [&](const auto& mode) { return mode.motion == motion; });
    return found == modes.end() ? nullptr : &*found;
}

} // namespace

TEST_CASE("the same analysis of kept recordings gives the modes that are stored") {
    const AgainBench b;
    const auto again = bench::analyse_again(b.store, *b.store.history(b.plate), {});
    REQUIRE(again.size() == 1);
    CHECK(again[0].lost == 0);
    const auto stored = b.session().modes;
    REQUIRE(again[0].after.modes.size() == stored.size());
    for (std::size_t i = 0; i < stored.size(); ++i) {
        // 24 bits of full scale stand between the two: far below what a tap's noise leaves open.
        CHECK(again[0].after.modes[i].mode.frequency_hz ==
              Approx(stored[i].mode.frequency_hz).epsilon(1e-6));
        CHECK(again[0].after.modes[i].name.has_value() == stored[i].name.has_value());
    }
}

TEST_CASE("what was found before and now stands side by side, and is kept only when asked") {
    AgainBench b;
    b.age();
    const auto before = b.session();
    double told = 0;
    const auto again =
        bench::analyse_again(b.store, *b.store.history(b.plate), {}, [&](double share) {
            told = share;
            return true;
        });
    CHECK(told == 1.0);
    REQUIRE(again.at(0).difference.modes.size() == before.modes.size());
    for (const trends::ComparedMode& mode : again[0].difference.modes) {
        REQUIRE((mode.plate && mode.reference));
        CHECK(mode.plate->frequency_hz - mode.reference->frequency_hz ==
              Approx(-0.25).margin(1e-3));
    }
    CHECK(b.session().modes[0].analysis_version == "earlier");

    bench::keep_again(b.store, again);
    const auto after = b.session();
    CHECK(after.modes[0].analysis_version == modes::k_analysis_version);
    CHECK(after.taps[0].analysis_version == modes::k_analysis_version);
    CHECK(after.modes[0].mode.frequency_hz ==
          Approx(before.modes[0].mode.frequency_hz - 0.25).margin(1e-3));
    CHECK(std::any_of(after.modes.begin(), after.modes.end(), [](const auto& mode) {
        return mode.name && mode.name->by_maker && mode.name->number == 7;
    }));
    CHECK(b.store.has_reading(after.taps[0].id, "earlier")); // the earlier one stays beside it
    bench::keep_again(b.store, again);                       // twice does no harm
}

TEST_CASE(
    "a tap without its recording counts with what was found in it, and stopped, nothing is lost") {
    AgainBench b;
    std::filesystem::remove_all(b.folder.path() / "ledger" / "recordings");
    const auto again = bench::analyse_again(b.store, *b.store.history(b.plate), {});
    CHECK(again.at(0).lost == 4);
    CHECK(again[0].after.modes.size() >= 5);
    CHECK(again[0].after.taps[0].partials.size() == b.session().taps[0].partials.size());
    CHECK(bench::analyse_again(b.store, *b.store.history(b.plate), {}, [](double) {
              return false;
          }).empty());
}

TEST_CASE("a wood's test is analysed anew: its motion stands where the taps have it, what was "
          "typed stays") {
    Board b;
    const auto again = bench::analyse_again(b.store, b.wood(), {});
    REQUIRE(again.size() == 1);
    const ledger::WoodModeRecord* along = find(again[0].after, ledger::WoodMotion::along);
    REQUIRE(along != nullptr);
    CHECK(along->frequency_hz == Approx(170.0).margin(0.05)); // as the rings are made
    CHECK(along->taps == 4);
    CHECK(along->analysis_version == modes::k_analysis_version);
    CHECK(find(again[0].after, ledger::WoodMotion::twist) == nullptr); // nothing rings at 61 Hz
    CHECK(again[0].gone.empty());
    CHECK(find(b.wood().tests[0].modes, ledger::WoodMotion::along)->analysis_version == "earlier");

    bench::keep_again(b.store, again);
    const auto kept = b.wood().tests[0].modes;
    CHECK(find(kept, ledger::WoodMotion::along)->frequency_hz == along->frequency_hz);
    CHECK(find(kept, ledger::WoodMotion::twist)->frequency_hz == 61.0);

    const auto rows = [&] {
        ledger::Database database{b.folder.path() / "ledger" / "ledger.sqlite",
                                  ledger::Database::Access::read_only};
        ledger::Statement count{database, "SELECT count(*) FROM wood_mode"};
        count.step();
        return count.integer();
    };
    const auto once = rows();
    bench::keep_again(b.store, bench::analyse_again(b.store, b.wood(), {}));
    CHECK(rows() == once); // nothing new is not kept twice
}

TEST_CASE(
    "a motion above the band is still looked for, and one that no tap has is said to be gone") {
    Board b;
    b.store.add_wood_modes(b.test,
                           std::vector{ledger::WoodModeRecord{
                               ledger::WoodMotion::sound_along, 6800, 5, {}, {}, 4, "earlier"}});
    const auto again = bench::analyse_again(b.store, b.wood(), {});
    REQUIRE(again.at(0).gone.size() == 1);
    CHECK(again[0].gone[0] == ledger::WoodMotion::sound_along);
    CHECK(find(again[0].after, ledger::WoodMotion::along) != nullptr);
    std::filesystem::remove_all(b.folder.path() / "ledger" / "recordings");
    const auto lost = bench::analyse_again(b.store, b.wood(), {});
    CHECK(lost.at(0).lost == 4);
    CHECK(lost[0].after.empty());
    CHECK(bench::analyse_again(b.store, b.wood(), {}, [](double) { return false; }).empty());
}
