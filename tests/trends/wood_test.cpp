#include "plate/wood/bar.hpp"
#include "plate/wood/board.hpp"
#include "support/catch.hpp"
#include "trends/wood/wood_choice.hpp"
#include "trends/wood/wood_figures.hpp"
#include "trends/wood/wood_taps.hpp"

#include <cmath>
#include <random>

using namespace platewright;
using namespace platewright::trends;
using ledger::WoodMotion;

namespace {

ledger::WoodTest piece(ledger::Piece kind, double along, double across, double thickness,
                       double density) {
    ledger::WoodTest test;
    test.record.piece = kind;
    test.record.along_mm = along;
    test.record.across_mm = across;
    test.record.thickness_mm = thickness;
    test.record.mass_g = 1e-6 * density * along * across * thickness;
    return test;
}

void tapped(ledger::WoodTest& test, WoodMotion motion, double hz, double q = 80.0) {
    test.modes.push_back({motion, hz, 0.001 * hz, q, 0.02 * q, 5, "1"});
}

modes::Mode wood_mode_at(double hz, double level_db) {
    modes::Mode mode;
    mode.frequency_hz = hz;
    mode.frequency_sd_hz = 0.05;
    mode.spread_hz = 0.2;
    mode.q = 70.0;
    mode.q_sd = 1.0;
    mode.level_db = level_db;
    mode.taps = 5;
    return mode;
}

WoodFigures known(double density, double e_l, double e_r) {
    WoodFigures f;
    f.density_kg_m3 = Figure{density, 0.01 * density};
    f.e_l_gpa = Figure{e_l, 0.02 * e_l};
    f.e_r_gpa = Figure{e_r, 0.03 * e_r};
    return f;
}

} // namespace

TEST_CASE("a bar tells density, stiffness, speed of sound, radiation ratio and Q") {
    ledger::WoodHistory wood;
    wood.wood.species = "sitka_spruce";
    const plate::Wood handbook = handbook_wood("sitka_spruce");
    ledger::WoodTest bar = piece(ledger::Piece::bar, 400.0, 30.0, 8.0, 420.0);
    tapped(bar, WoodMotion::along,
           plate::wood_bar_frequency_hz({400.0, 30.0, 8.0, *bar.record.mass_g}, 12.0,
                                        handbook.e_l_gpa / handbook.g_lt_gpa),
           115.0);
    wood.tests.push_back(bar);
    const WoodFigures f = wood_figures(wood);
    CHECK(f.density_kg_m3->value == Approx(420.0));
    CHECK(f.e_l_gpa->value == Approx(12.0).epsilon(1e-6));
    CHECK(f.sound_l_m_s->value == Approx(std::sqrt(12e9 / 420.0)).epsilon(1e-6));
    CHECK(f.radiation->value == Approx(f.sound_l_m_s->value / 420.0));
    CHECK(f.q_along->value == Approx(115.0));
    CHECK_FALSE(f.e_r_gpa);
    CHECK(f.remarks.empty());
}

// Sound along the grain: c = 2 L f (Noon, cited in docs/sources.md; any text on bars).
TEST_CASE("a wedge struck on end tells its stiffness by its length and mean thickness alone") {
    ledger::WoodTest wedge = piece(ledger::Piece::wedge, 500.0, 130.0, 40.0, 400.0);
    wedge.record.thin_edge_mm = 20.0;
    *wedge.record.mass_g *= 0.75;
    tapped(wedge, WoodMotion::sound_along, 5500.0);
    tapped(wedge, WoodMotion::along, 700.0);
    ledger::WoodHistory wood;
    wood.tests.push_back(wedge);
    const WoodFigures f = wood_figures(wood);
    CHECK(f.density_kg_m3->value == Approx(400.0));
    CHECK(f.sound_l_m_s->value == Approx(5500.0));
    REQUIRE(f.remarks.size() == 1); // its bending is not used, and that is said
    CHECK(f.remarks[0].find("wedge") != std::string::npos);
}

TEST_CASE("95 % intervals of a board's constants hold the truth of boards measured with error") {
    std::mt19937_64 random{11};
    std::normal_distribution<double> normal;
    plate::Wood truth = handbook_wood("norway_spruce");
    truth.density_kg_m3 = 415.0;
    const plate::Board exact{410.0, 130.0, 4.5, 1e-6 * 415.0 * 410.0 * 130.0 * 4.5};
    const Eigen::Vector3d hz = plate::board_frequencies_hz(exact, truth);
    const WoodErrors errors;
    int held = 0, asked = 0;
    for (int i = 0; i < 12; ++i) {
        ledger::WoodTest board;
        board.record.piece = ledger::Piece::board;
        board.record.along_mm = 410.0 + errors.extent_mm * normal(random);
        board.record.across_mm = 130.0 + errors.extent_mm * normal(random);
        board.record.thickness_mm = 4.5 + errors.thickness_mm * normal(random);
        board.record.mass_g = exact.mass_g * (1.0 + errors.mass_share * normal(random));
        const std::array motions{WoodMotion::along, WoodMotion::across, WoodMotion::twist};
        for (std::size_t k = 0; k < 3; ++k)
            tapped(board, motions[k],
                   hz[static_cast<Eigen::Index>(k)] * (1.0 + errors.tap_share * normal(random)));
        ledger::WoodHistory wood;
        wood.wood.species = "norway_spruce";
        wood.tests.push_back(board);
        const WoodFigures f = wood_figures(wood);
        for (const auto& [figure, true_value] :
             {std::pair{f.e_l_gpa, truth.e_l_gpa}, std::pair{f.e_r_gpa, truth.e_r_gpa},
              std::pair{f.g_lr_gpa, truth.g_lr_gpa}, std::pair{f.density_kg_m3, 415.0}}) {
            REQUIRE(figure);
            ++asked;
            held += std::abs(figure->value - true_value) < 1.96 * figure->sd ? 1 : 0;
        }
    }
    CHECK(held >= 41); // of 48; 95 % of them are 45.6, errors of one board go together
    CHECK(asked == 48);
}

TEST_CASE("tests that disagree widen the figure, and another moisture moves it") {
    ledger::WoodHistory wood;
    for (const double density : {400.0, 440.0}) {
        wood.tests.push_back(piece(ledger::Piece::billet, 500.0, 120.0, 60.0, density));
        wood.tests.back().record.moisture_pct = 8.0;
    }
    const WoodFigures f = wood_figures(wood);
    CHECK(f.density_kg_m3->value == Approx(std::sqrt(400.0 * 440.0)));
    CHECK(f.density_kg_m3->sd > 15.0);
    CHECK_FALSE(f.moisture_pct);
    const WoodFigures wetter = wood_figures(wood, 12.0);
    CHECK(wetter.density_kg_m3->value == Approx(f.density_kg_m3->value * std::exp(0.024)));
    CHECK(wetter.moisture_pct == 12.0);
    wood.tests[0].record.moisture_pct.reset();
    CHECK_FALSE(wood_figures(wood, 12.0).moisture_pct); // of one nothing is known
}

TEST_CASE("the three motions of a tapped board are recognised among others") {
    ledger::WoodTestRecord r = piece(ledger::Piece::board, 410.0, 130.0, 4.5, 415.0).record;
    plate::Wood tree = handbook_wood("norway_spruce");
    tree.e_l_gpa *= 1.12;
    tree.e_r_gpa *= 0.9;
    const Eigen::Vector3d hz =
        plate::board_frequencies_hz({r.along_mm, r.across_mm, r.thickness_mm, *r.mass_g}, tree);
    const std::vector heard{wood_mode_at(hz[2], -3.0), wood_mode_at(hz[0], 0.0),
                            wood_mode_at(1.55 * hz[0], -14.0), wood_mode_at(hz[1], -4.0),
                            wood_mode_at(3.6 * hz[0], -9.0)};
    const auto found = recognise(heard, r, "norway_spruce", {}, "9");
    REQUIRE(found.modes.size() == 3);
    CHECK(found.doubts.empty());
    for (const auto& mode : found.modes) {
        const Eigen::Index k = mode.motion == WoodMotion::along    ? 0
                               : mode.motion == WoodMotion::across ? 1
                                                                   : 2;
        CHECK(mode.frequency_hz == hz[k]);
        CHECK(mode.analysis_version == "9");
        CHECK(mode.taps == 5);
    }
}

// On such a board the second bending along, 2.76 times the first (the free bar), lies near the
// bending across.
TEST_CASE("a second bending that lies where the bending across should be is asked about") {
    const ledger::WoodTestRecord r = piece(ledger::Piece::board, 410.0, 130.0, 4.5, 415.0).record;
    const Eigen::Vector3d hz = plate::board_frequencies_hz(
        {r.along_mm, r.across_mm, r.thickness_mm, *r.mass_g}, handbook_wood("norway_spruce"));
    const std::vector heard{wood_mode_at(hz[2], -3.0), wood_mode_at(hz[0], 0.0),
                            wood_mode_at(hz[1], -6.0), wood_mode_at(2.76 * hz[0], -6.0)};
    const auto found = recognise(heard, r, "norway_spruce", {}, "9");
    CHECK(found.modes.size() == 2);
    REQUIRE(found.doubts.size() == 1);
    CHECK(found.doubts[0].find("--motion across=") != std::string::npos);
}

TEST_CASE("the maker's word on a motion counts, and two that both might be are asked about") {
    const ledger::WoodTestRecord r = piece(ledger::Piece::bar, 400.0, 30.0, 8.0, 420.0).record;
    const plate::Wood wood = handbook_wood("sitka_spruce");
    const double usual = plate::wood_bar_frequency_hz({400.0, 30.0, 8.0, *r.mass_g}, wood.e_l_gpa,
                                                      wood.e_l_gpa / wood.g_lt_gpa);
    const std::vector heard{wood_mode_at(0.94 * usual, 0.0), wood_mode_at(1.06 * usual, 0.0)};
    const auto unsure = recognise(heard, r, "sitka_spruce", {}, "9");
    CHECK(unsure.modes.empty());
    REQUIRE(unsure.doubts.size() == 1);
    CHECK(unsure.doubts[0].find("--motion along=") != std::string::npos);
    const std::vector said{TypedMotion{WoodMotion::along, 1.055 * usual, {}}};
    const auto told = recognise(heard, r, "sitka_spruce", said, "9");
    REQUIRE(told.modes.size() == 1);
    CHECK(told.modes[0].frequency_hz == 1.06 * usual);
    CHECK(told.modes[0].q == 70.0);
    const std::vector elsewhere{TypedMotion{WoodMotion::along, 2.0 * usual, 90.0}};
    const auto typed = recognise(heard, r, "sitka_spruce", elsewhere, "9");
    CHECK(typed.modes[0].taps == 0);
    CHECK(typed.modes[0].frequency_hz == 2.0 * usual);
    CHECK_FALSE(typed.doubts.empty());
}

TEST_CASE("the stock is sorted by nearness to the good wood") {
    const std::vector stock{known(450.0, 14.0, 1.1), known(405.0, 12.1, 0.9),
                            known(370.0, 10.0, 0.7)};
    const auto list = nearest(stock, known(400.0, 12.0, 0.9));
    REQUIRE(list.size() == 3);
    CHECK(list[0].index == 1);
    CHECK(list[0].distance < 0.2);
    CHECK(list[1].distance < list[2].distance);
    CHECK(list[0].figures.size() == 3);
    WoodFigures bare;
    bare.density_kg_m3 = Figure{400.0, 4.0};
    CHECK(nearest(std::vector{bare}, known(400.0, 12.0, 0.9)).empty());
}

// Bending stiffness goes with E h^3, mass with rho h, a flat plate's tone with h sqrt(E / rho).
TEST_CASE("thickness for the same stiffness, mass and tone keeps each of them the same") {
    const WoodFigures good = known(400.0, 12.0, 0.9), wood = known(440.0, 15.0, 1.2);
    const ThicknessChoice c = thickness_for(wood, good, 2.8);
    const auto cubed = [](double x) { return x * x * x; };
    CHECK(15.0 * cubed(c.stiff_along_mm->value) == Approx(12.0 * cubed(2.8)));
    CHECK(1.2 * cubed(c.stiff_across_mm->value) == Approx(0.9 * cubed(2.8)));
    CHECK(15.0 * 1.2 * std::pow(c.stiff_mm->value, 6) == Approx(12.0 * 0.9 * std::pow(2.8, 6)));
    CHECK(440.0 * c.heavy_mm->value == Approx(400.0 * 2.8));
    const double tone = std::sqrt(std::sqrt(15.0 * 1.2) / 440.0) * c.tuned_mm->value;
    CHECK(tone == Approx(std::sqrt(std::sqrt(12.0 * 0.9) / 400.0) * 2.8));
    CHECK(*c.mass_share_when_stiff == Approx(440.0 * c.stiff_mm->value / (400.0 * 2.8)));
    CHECK(c.stiff_along_mm->sd == Approx(c.stiff_along_mm->value * std::hypot(0.02, 0.02) / 3.0));
    CHECK_THROWS_AS(thickness_for(wood, good, 0.0), std::invalid_argument);
}

TEST_CASE("a piece struck on its end is listened to as far up as it may sound") {
    ledger::WoodTestRecord piece;
    piece.along_mm = 400;
    // Spruce of 5.9 km/s sounds at c / 2L = 7375 Hz; the default band would end at 2500.
    CHECK(trends::highest_motion_hz(piece) > 7375);
    CHECK(trends::highest_motion_hz(piece) < 10000);
    piece.along_mm = 2000;
    CHECK(trends::highest_motion_hz(piece) ==
          Approx(trends::highest_motion_hz({.along_mm = 400}) / 5));
}
