#include "trends/wood/wood_figures.hpp"

#include "trends/wood/wood_pieces.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::trends {
namespace {

using Readings = std::vector<LogReading>;

/// Weighed mean of logarithms; widened by the spread where the readings disagree.
std::optional<Figure> together(const Readings& readings) {
    if (readings.empty())
        return std::nullopt;
    double weights = 0.0, sum = 0.0;
    for (const LogReading& r : readings) {
        weights += 1.0 / (r.sd * r.sd);
        sum += r.value / (r.sd * r.sd);
    }
    const double mean = sum / weights;
    double misfit = 0.0;
    for (const LogReading& r : readings)
        misfit += (r.value - mean) * (r.value - mean) / (r.sd * r.sd);
    const auto freedom = static_cast<double>(readings.size()) - 1.0;
    const double widened = freedom > 0.0 ? std::max(1.0, std::sqrt(misfit / freedom)) : 1.0;
    const double value = std::exp(mean);
    return Figure{value, value * widened / std::sqrt(weights)};
}

struct Slopes {
    double e_l = -0.016, e_r = -0.030, g_lr = -0.030, density = 0.006; // by +1 % moisture
};

void correct(Readings& readings, double slope, double moisture_change) {
    for (LogReading& r : readings) {
        const double shift = slope * moisture_change;
        r.value += shift;
        r.sd = std::hypot(r.sd, 0.5 * shift);
    }
}

void append(Readings& all, const Readings& more) {
    all.insert(all.end(), more.begin(), more.end());
}

std::optional<Figure> power(const std::optional<Figure>& a, double p,
                            const std::optional<Figure>& b, double q, double scale) {
    if (!a || !b)
        return std::nullopt;
    const double value = scale * std::pow(a->value, p) * std::pow(b->value, q);
    return Figure{value, value * std::hypot(p * a->sd / a->value, q * b->sd / b->value)};
}

} // namespace

std::optional<double> moisture_of(const ledger::WoodTestRecord& test) {
    if (test.moisture_pct)
        return test.moisture_pct;
    ledger::SessionRecord air;
    air.temperature_c = test.temperature_c;
    air.humidity_pct = test.humidity_pct;
    const auto known = air_of(air);
    return known ? std::optional{equilibrium_moisture_pct(*known)} : std::nullopt;
}

plate::Wood handbook_wood(const std::string& species) {
    const auto row = plate::find_species(species);
    return row ? row->wood : plate::find_species("norway_spruce")->wood;
}

WoodFigures wood_figures(const ledger::WoodHistory& wood, std::optional<double> moisture_pct,
                         const WoodErrors& errors) {
    WoodFigures figures;
    figures.moisture_pct = moisture_pct;
    PieceReadings all;
    const plate::Wood start = handbook_wood(wood.wood.species);
    for (const ledger::WoodTest& test : wood.tests) {
        PieceReadings one = read_piece(test, start, errors);
        const std::optional<double> then = moisture_of(test.record);
        if (moisture_pct && then) {
            const double change = *moisture_pct - *then;
            const Slopes slopes;
            correct(one.e_l, slopes.e_l, change);
            correct(one.e_r, slopes.e_r, change);
            correct(one.g_lr, slopes.g_lr, change);
            correct(one.density, slopes.density, change);
        } else if (moisture_pct) {
            figures.moisture_pct.reset();
        }
        for (auto readings : {&PieceReadings::density, &PieceReadings::e_l, &PieceReadings::e_r,
                              &PieceReadings::g_lr, &PieceReadings::q_along,
                              &PieceReadings::q_across, &PieceReadings::q_twist})
            append(all.*readings, one.*readings);
        figures.remarks.insert(figures.remarks.end(), one.remarks.begin(), one.remarks.end());
    }
    if (moisture_pct && !figures.moisture_pct)
        figures.remarks.emplace_back(
            wording::say("Of a piece neither moisture nor air was noted: its figures are as they "
                         "were that day."));
    figures.density_kg_m3 = together(all.density);
    figures.e_l_gpa = together(all.e_l);
    figures.e_r_gpa = together(all.e_r);
    figures.g_lr_gpa = together(all.g_lr);
    figures.q_along = together(all.q_along);
    figures.q_across = together(all.q_across);
    figures.q_twist = together(all.q_twist);
    constexpr double k_root_of_giga = 31622.7766;
    figures.sound_l_m_s = power(figures.e_l_gpa, 0.5, figures.density_kg_m3, -0.5, k_root_of_giga);
    figures.sound_r_m_s = power(figures.e_r_gpa, 0.5, figures.density_kg_m3, -0.5, k_root_of_giga);
    figures.radiation = power(figures.e_l_gpa, 0.5, figures.density_kg_m3, -1.5, k_root_of_giga);
    return figures;
}

plate::MeasuredWood measured_wood(const ledger::WoodHistory& wood,
                                  std::optional<double> moisture_pct) {
    constexpr double k_board_to_board = 0.05;
    const WoodFigures figures = wood_figures(wood, moisture_pct);
    const auto constant = [](const std::optional<Figure>& f) {
        return f ? std::optional{plate::MeasuredConstant{
                       f->value, std::hypot(f->sd / f->value, k_board_to_board)}}
                 : std::nullopt;
    };
    plate::MeasuredWood measured{constant(figures.e_l_gpa),
                                 constant(figures.e_r_gpa),
                                 constant(figures.g_lr_gpa),
                                 constant(figures.density_kg_m3),
                                 {}};
    if (!wood.tests.empty())
        measured.source = "wood \u201c" + wood.wood.label + "\u201d, measured " +
                          base::local_date(wood.tests.back().record.at);
    return measured;
}

plate::MeasuredWood billet_of(const ledger::PlateHistory& history,
                              const ledger::SessionRecord& session) {
    if (!history.wood)
        return {};
    const auto air = air_of(session);
    return measured_wood(*history.wood,
                         air ? std::optional{equilibrium_moisture_pct(*air)} : std::nullopt);
}

} // namespace platewright::trends
