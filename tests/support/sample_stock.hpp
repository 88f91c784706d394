#pragma once
#include "bench/wood/stock_view.hpp"

#include <memory>

namespace platewright::test {

/// Three invented woods: one well known, one of half its stiffness with a remark, one not read yet.
inline std::shared_ptr<bench::StockView> sample_stock() {
    auto stock = std::make_shared<bench::StockView>();
    trends::WoodFigures figures;
    figures.density_kg_m3 = trends::Figure{421.4, 6.1};
    figures.e_l_gpa = trends::Figure{12.1, 0.22};
    figures.e_r_gpa = trends::Figure{0.85, 0.03};
    figures.g_lr_gpa = trends::Figure{0.78, 0.02};
    figures.sound_l_m_s = trends::Figure{5361, 48};
    figures.sound_r_m_s = trends::Figure{1420, 20};
    figures.radiation = trends::Figure{12.7, 0.2};
    figures.q_along = trends::Figure{112, 4};
    figures.q_across = trends::Figure{48, 3};
    ledger::WoodTest test;
    test.record.piece = ledger::Piece::board;
    test.record.at.ms_since_epoch = 1893456000000;
    test.record.along_mm = 400;
    test.record.across_mm = 190;
    test.record.thickness_mm = 4.2;
    test.record.mass_g = 137.5;
    test.modes = {{ledger::WoodMotion::along, 128.4, 0.2, 112.0, {}, 5, "1"}};
    ledger::WoodHistory first;
    first.wood.id = 1;
    first.wood.label = "Spruce 7";
    first.wood.species = "norway_spruce";
    first.wood.origin = "An invented valley, felled in an invented winter";
    first.tests = {test};
    ledger::WoodHistory second = first;
    second.wood.id = 2;
    second.wood.label = "Spruce 9";
    ledger::WoodHistory third = first;
    third.wood.id = 3;
    third.wood.label = "Maple 2";
    third.wood.species = "sugar_maple";
    stock->woods = {{first, figures}, {second, figures}, {third, std::nullopt}};
    trends::WoodFigures& other = *stock->woods[1].figures;
    other.density_kg_m3->value *= 0.95;
    other.e_l_gpa->value *= 0.5;
    other.q_across.reset();
    other.remarks = {"The bar of an invented day is only 12 times as long as thick."};
    return stock;
}

} // namespace platewright::test
