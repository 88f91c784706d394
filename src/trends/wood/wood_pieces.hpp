#pragma once
#include "ledger/record.hpp"
#include "plate/wood/wood.hpp"

#include <string>
#include <vector>

namespace platewright::trends {

struct WoodErrors;

/// A logarithm with its standard deviation.
struct LogReading {
    double value = 0;
    double sd = 0;
};

/// What one piece tells on its own, as logarithms: density in kg/m^3, constants in GPa.
struct PieceReadings {
    std::vector<LogReading> density, e_l, e_r, g_lr, q_along, q_across, q_twist;
    std::vector<std::string> remarks;
};

/// start: the handbook's, for shear corrections and as the board fit's beginning.
PieceReadings read_piece(const ledger::WoodTest& test, const plate::Wood& start,
                         const WoodErrors& errors);

/// Of a wedge half way between its edges.
double mean_thickness_mm(const ledger::WoodTestRecord& test);

/// A bar is at least four times as long as it is wide, in the direction it bends; else it is a
/// board.
bool is_bar(double long_mm, double wide_mm);

} // namespace platewright::trends
