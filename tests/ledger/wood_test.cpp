#include "ledger/mend/check.hpp"
#include "ledger/workshop.hpp"
#include "support/catch.hpp"

#include <stdexcept>

using namespace platewright;
using namespace platewright::ledger;
using namespace platewright::test;

namespace {

WoodRecord some_wood(const char* label) {
    WoodRecord wood;
    wood.label = label;
    wood.species = "norway_spruce";
    wood.origin = "a wind-thrown tree, Fichte";
    wood.created = {1'700'000'000'000};
    return wood;
}

WoodTestRecord some_test(Id wood, int day = 0) {
    WoodTestRecord test;
    test.wood = wood;
    test.at = {1'700'000'100'000 + day * std::int64_t{86'400'000}};
    test.piece = Piece::wedge;
    test.along_mm = 400.5;
    test.across_mm = 130.0;
    test.thickness_mm = 45.0;
    test.thin_edge_mm = 15.0;
    test.mass_g = 640.0;
    test.humidity_pct = 48.0;
    test.temperature_c = 19.5;
    return test;
}

WoodModeRecord typed(WoodMotion motion, double hz) { return {motion, hz, 0.5, {}, {}, 0, ""}; }

} // namespace

TEST_CASE("wood is kept with its tests, their typed modes and their taps") {
    const TemporaryFolder folder;
    Id wood = 0;
    {
        Store store{folder.path()};
        wood = store.add(some_wood("Spruce 7"));
        store.add(some_wood("Maple 2"));
        const std::vector modes{typed(WoodMotion::sound_along, 6800.0)};
        const Id later = store.add(some_test(wood, 2), modes);
        store.add(some_test(wood, 1), {});
        store.add_wood_tap(later, some_tap(0, 4), some_sound(4));
        const WoodModeRecord tapped{WoodMotion::sound_along, 6790.0, 1.5, 120.0, 4.0, 5, "3"};
        store.add_wood_modes(later, std::vector{tapped});
    }
    const Store store{folder.path()};
    const auto stock = store.wood_stock();
    REQUIRE(stock.size() == 2);
    CHECK(stock[0].wood.label == "Maple 2");
    const WoodHistory& spruce = stock[1];
    CHECK(spruce.wood.id == wood);
    CHECK(spruce.wood.origin == "a wind-thrown tree, Fichte");
    REQUIRE(spruce.tests.size() == 2); // by date, not by the order they came in
    CHECK(spruce.tests[0].modes.empty());
    const WoodTest& test = spruce.tests[1];
    CHECK(test.record.piece == Piece::wedge);
    CHECK(test.record.thin_edge_mm == 15.0);
    CHECK(test.record.mass_g == 640.0);
    CHECK_FALSE(test.record.moisture_pct);
    REQUIRE(test.modes.size() == 1); // the newer word of the same motion counts
    CHECK(test.modes[0].frequency_hz == 6790.0);
    CHECK(test.modes[0].q == 120.0);
    CHECK(test.modes[0].analysis_version == "3");
    REQUIRE(test.taps.size() == 1);
    CHECK(store.load(test.taps[0]).samples.size() == some_sound(4).samples.size());
    CHECK(check(folder.path()).whole());
    CHECK(check(folder.path()).unclaimed.empty());
    CHECK(check(folder.path()).taps == 1);
}

TEST_CASE("wood and its tests go into the bin and come back") {
    const TemporaryFolder folder;
    Store store{folder.path()};
    const Id wood = store.add(some_wood("Spruce 7"));
    const Id test = store.add(some_test(wood), {});
    store.bin("wood_test", test);
    CHECK(store.wood_stock().at(0).tests.empty());
    store.unbin("wood_test", test);
    CHECK(store.wood_stock().at(0).tests.size() == 1);
    store.bin("wood", wood);
    CHECK(store.wood_stock().empty());
    store.unbin("wood", wood);
    CHECK(store.wood_stock().size() == 1);
}

TEST_CASE("a plate knows the wood it was carved from, and a word can be taken back") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path()};
    Store& store = workshop.store;
    const Id first = store.add(some_wood("Spruce 7")), second = store.add(some_wood("Spruce 8"));
    CHECK_FALSE(store.history(workshop.plate)->wood);
    store.set_carved(workshop.plate, first);
    store.set_carved(workshop.plate, second);
    REQUIRE(store.history(workshop.plate)->wood);
    CHECK(store.history(workshop.plate)->wood->wood.label == "Spruce 8");
    CHECK(store.wood_stock()[0].plates.empty());
    CHECK(store.wood_stock()[1].plates == std::vector{workshop.plate});
    store.set_carved(workshop.plate, std::nullopt);
    CHECK_FALSE(store.history(workshop.plate)->wood);
    CHECK_THROWS_AS(store.set_carved(workshop.plate, 99), std::invalid_argument);
}

TEST_CASE("a target stands until another is set or it is taken back") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path()};
    workshop.store.set_target(workshop.plate, 5, 340.0);
    workshop.store.set_target(workshop.plate, 2, 150.0);
    workshop.store.set_target(workshop.plate, 5, 345.0);
    auto targets = workshop.store.history(workshop.plate)->targets;
    REQUIRE(targets.size() == 2);
    CHECK(targets[0].number == 2);
    CHECK(targets[1].frequency_hz == 345.0);
    workshop.store.set_target(workshop.plate, 2, std::nullopt);
    targets = workshop.store.history(workshop.plate)->targets;
    REQUIRE(targets.size() == 1);
    CHECK(targets[0].number == 5);
}

TEST_CASE("a tap of wood that the database lost is put back from its recording") {
    const TemporaryFolder folder;
    Store store{folder.path()};
    const Id test = store.add(some_test(store.add(some_wood("Spruce 7"))), {});
    const Id lost = store.add_wood_tap(test, some_tap(0, 4), some_sound(4));
    {
        Database database{folder.path() / "ledger.sqlite", Database::Access::read_write};
        database.execute("DELETE FROM wood_tap WHERE id = ?", lost);
        database.execute("DELETE FROM recording");
    }
    CHECK(store.rescue().taps == 1);
    REQUIRE(store.wood_stock()[0].tests[0].taps.size() == 1);
    CHECK(store.load(store.wood_stock()[0].tests[0].taps[0]).samples.size() == 4800);
}

TEST_CASE("a tap of a test that is not there is refused") {
    const TemporaryFolder folder;
    Store store{folder.path()};
    CHECK_THROWS_AS(store.add_wood_tap(7, some_tap(0, 4), some_sound(4)), std::invalid_argument);
}
