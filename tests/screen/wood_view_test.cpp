#include "headless_window.hpp"
#include "support/catch.hpp"
#include "support/sample_stock.hpp"

using namespace platewright;
using screen::Key;
using test::HeadlessWindow;
using test::sample_snapshot;
namespace command = bench::command;

namespace {
bench::Snapshot with_stock() {
    auto now = sample_snapshot(test::full_plate());
    now.stock = test::sample_stock();
    return now;
}
} // namespace

TEST_CASE("the wood is asked for when someone looks, and an empty stock says what to do") {
    auto now = sample_snapshot(test::full_plate());
    HeadlessWindow window(now);
    CHECK_FALSE(window.last_sent<command::StudyStock>());
    window.strike(Key::f9);
    CHECK(window.last_sent<command::StudyStock>());
    CHECK(window.reads("No wood in the ledger yet"));
}

TEST_CASE("the stock stands as a table, each figure with its doubt, and a row opens a wood") {
    HeadlessWindow window(with_stock());
    window.strike(Key::f9);
    CHECK(window.reads("Spruce 7"));
    CHECK(window.reads("421"));
    CHECK(window.reads("\u00b1 12"));
    CHECK(window.reads("12.1"));
    CHECK(window.reads_within("radiation ratio 12.7"));
    window.press("Spruce 9");
    CHECK(window.reads_within("The bar of an invented day"));
    CHECK(window.reads("\u00b7\u00b7\u00b7")); // a wood still being read
}

TEST_CASE(
    "with large letters a row of the stock scrolls down to the wood it opens, below the table") {
    HeadlessWindow window(with_stock(), 1280, 800, 2.0);
    window.strike(Key::f9);
    REQUIRE_FALSE(window.reads("Set all beside it"));
    window.press("Spruce 9");
    CHECK(window.reads("Set all beside it"));
    const screen::Seen* heading = window.find("Spruce 9");
    REQUIRE(heading != nullptr);
    CHECK(heading->where.top < 200.0); // its page begins at the view's top
}

TEST_CASE("all are set beside the good wood, and the thickness for another is said") {
    HeadlessWindow window(with_stock());
    window.strike(Key::f9);
    CHECK_FALSE(window.reads("difference"));
    window.press("Set all beside it");
    CHECK(window.reads("difference"));
    CHECK(window.reads_within("Nearest: Spruce 9"));
    window.press("Spruce 9");
    CHECK(window.reads_within("density 95 %"));
    window.press("[thickness of its plate, mm]");
    window.write("3.0");
    // Half the stiffness: the third root of 2 thicker (trends/wood/wood_choice.hpp).
    CHECK(window.reads_within("as stiff along the grain 3.78"));
    CHECK(window.reads_within("as heavy 3.16"));
}

TEST_CASE(
    "a piece is typed in with a decimal comma, and what is no tone is refused with its sentence") {
    HeadlessWindow window(with_stock());
    window.strike(Key::f9);
    window.strike(U'w');
    const auto write = [&](const char* label, const char* words) {
        window.press(std::string("[") + label + "]");
        window.write(words);
    };
    window.write("Maple 3");
    write("along the grain, mm", "400,5");
    write("across the grain, mm", "190");
    write("mass, g", "137,5");
    write("bending along the grain", "much");
    window.press("Save");
    CHECK(window.reads_within("A piece needs its length along the grain"));
    write("thickness, mm", "4,2");
    window.press("Save");
    CHECK(window.reads_within("\u201cmuch\u201d is no tap tone"));
    window.strike(Key::escape);
    CHECK(window.reads("Spruce 7"));
    CHECK_FALSE(window.last_sent<command::AddWood>());
    window.strike(U'w');
    window.write("Maple 3");
    write("along the grain, mm", "400,5");
    write("across the grain, mm", "190");
    write("thickness, mm", "4,2");
    write("twist", "60,5; 90");
    window.press("Save");
    const auto sent = window.last_sent<command::AddWood>();
    REQUIRE(sent);
    CHECK(sent->wood.label == "Maple 3");
    CHECK(sent->test.along_mm == 400.5);
    CHECK_FALSE(sent->test.mass_g);
    REQUIRE(sent->motions.size() == 1);
    CHECK(sent->motions[0].motion == ledger::WoodMotion::twist);
    CHECK(sent->motions[0].frequency_hz == 60.5);
    CHECK(sent->motions[0].q == 90.0);
}

TEST_CASE("the plate on the bench is said to be carved from a wood, and the wood can be put away "
          "and back") {
    HeadlessWindow window(with_stock());
    window.strike(Key::f9);
    window.press("Larkfield 7, back is carved from it");
    REQUIRE(window.last_sent<command::SetCarved>());
    CHECK(window.last_sent<command::SetCarved>()->wood == 1);
    window.press("Put away");
    CHECK(window.last_sent<command::Bin>()->table == "wood");
    window.press("Put Spruce 7 back");
    CHECK(window.last_sent<command::Unbin>()->id == 1);
}

TEST_CASE("figures at one moisture are asked of the bench") {
    HeadlessWindow window(with_stock());
    window.strike(Key::f9);
    window.press("[all at this moisture of the wood, %; empty: each as it was]");
    window.write("9,5");
    window.press("Read again");
    REQUIRE(window.last_sent<command::StudyStock>());
    CHECK(window.last_sent<command::StudyStock>()->moisture_pct == 9.5);
}
