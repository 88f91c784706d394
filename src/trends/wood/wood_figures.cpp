#include "trends/wood/wood_figures.hpp"

#include "base/clock.hpp"
#include "base/text.hpp"
#include "plate/wood/bar.hpp"
#include "plate/wood/board.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::trends {
namespace {

using ledger::WoodMotion;
using wording::figure;
using wording::say;

constexpr double k_slender = 20.0; // length over thickness of a bar that can be trusted
constexpr double k_bar_shape = 4.0;

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

double hypot_of(std::initializer_list<double> values) {
    double sum = 0.0;
    for (const double v : values)
        sum += v * v;
    return std::sqrt(sum);
}

/// One piece with the relative deviations of what was measured of it.
struct Measured {
    const ledger::WoodTestRecord& record;
    const WoodErrors& errors;

    double along() const { return errors.extent_mm / record.along_mm; }
    double across() const { return errors.extent_mm / record.across_mm; }
    double thickness() const {
        return record.thickness_sd_mm.value_or(errors.thickness_mm) / mean_thickness_mm(record);
    }
    double mass() const { return errors.mass_share; }
    double density_sd() const { return hypot_of({along(), across(), thickness(), mass()}); }
    double density_kg_m3() const {
        return 1e6 * *record.mass_g /
               (record.along_mm * record.across_mm * mean_thickness_mm(record));
    }
};

const ledger::WoodModeRecord* find(const ledger::WoodTest& test, WoodMotion motion) {
    for (const ledger::WoodModeRecord& mode : test.modes)
        if (mode.motion == motion)
            return &mode;
    return nullptr;
}

double tap_sd(const ledger::WoodModeRecord& mode, const WoodErrors& errors) {
    return std::hypot(mode.frequency_sd_hz / mode.frequency_hz, errors.tap_share);
}

void read_dampings(const ledger::WoodTest& test, PieceReadings& out) {
    constexpr double k_between_holds = 0.10; // of Q, by hold and air around it (common practice)
    const auto take = [&](WoodMotion motion, std::vector<LogReading>& into) {
        const ledger::WoodModeRecord* mode = find(test, motion);
        if (mode != nullptr && mode->q)
            into.push_back({std::log(*mode->q),
                            std::hypot(mode->q_sd.value_or(0.0) / *mode->q, k_between_holds)});
    };
    take(WoodMotion::along, out.q_along);
    take(WoodMotion::sound_along, out.q_along);
    take(WoodMotion::across, out.q_across);
    take(WoodMotion::sound_across, out.q_across);
    take(WoodMotion::twist, out.q_twist);
}

// E = rho (2 L f)^2: thickness matters by the density alone.
void read_sound(const ledger::WoodTest& test, const Measured& piece, PieceReadings& out) {
    const auto take = [&](WoodMotion motion, double extent_mm, double extent_sd,
                          std::vector<LogReading>& into) {
        const ledger::WoodModeRecord* mode = find(test, motion);
        if (mode == nullptr)
            return;
        const double speed = 2e-3 * extent_mm * mode->frequency_hz;
        const double sd =
            hypot_of({piece.density_sd(), 2.0 * extent_sd, 2.0 * tap_sd(*mode, piece.errors)});
        into.push_back({std::log(1e-9 * piece.density_kg_m3() * speed * speed), sd});
    };
    take(WoodMotion::sound_along, piece.record.along_mm, piece.along(), out.e_l);
    take(WoodMotion::sound_across, piece.record.across_mm, piece.across(), out.e_r);
}

struct BarSides {
    double length_mm, width_mm, length_sd, width_sd, e_over_g;
};

void read_bar(const ledger::WoodModeRecord& mode, const BarSides& sides, const Measured& piece,
              std::vector<LogReading>& into, PieceReadings& out) {
    const plate::Bar bar{sides.length_mm, sides.width_mm, piece.record.thickness_mm,
                         *piece.record.mass_g};
    const double slenderness = bar.length_mm / bar.thickness_mm;
    const double correction = plate::wood_bar_correction(1.0 / slenderness, sides.e_over_g);
    const double modulus = plate::wood_bar_modulus_gpa(bar, mode.frequency_hz, sides.e_over_g);
    const double sd =
        hypot_of({piece.mass(), 3.0 * sides.length_sd, sides.width_sd, 3.0 * piece.thickness(),
                  2.0 * tap_sd(mode, piece.errors), (correction - 1.0) * piece.errors.shear_share});
    into.push_back({std::log(modulus), sd});
    if (slenderness < k_slender)
        out.remarks.push_back(say("The bar of {} is only {} times as long as thick: shear makes "
                                  "its figure doubtful. Forty times is better.",
                                  base::local_date(piece.record.at),
                                  wording::figure(slenderness, 0)));
}

void read_board(const ledger::WoodTest& test, const plate::Wood& start, const Measured& piece,
                PieceReadings& out) {
    const auto hz = [&](WoodMotion motion) {
        const auto* mode = find(test, motion);
        return mode == nullptr ? std::nullopt : std::optional{mode->frequency_hz};
    };
    const plate::BoardTaps taps{hz(WoodMotion::along), hz(WoodMotion::across),
                                hz(WoodMotion::twist)};
    const ledger::WoodTestRecord& r = piece.record;
    const plate::Board board{r.along_mm, r.across_mm, r.thickness_mm, *r.mass_g};
    const plate::BoardFit fit = plate::fit_board(board, taps, start);
    const std::string date = base::local_date(r.at);
    if (!fit.settled) {
        out.remarks.push_back(say("No wood of this kind gives the board of {} these frequencies: "
                                  "is one of them another motion, or a measure mistyped?",
                                  date));
        return;
    }
    Eigen::Vector3d tap = Eigen::Vector3d::Zero();
    const std::array motions{WoodMotion::along, WoodMotion::across, WoodMotion::twist};
    for (std::size_t k = 0; k < 3; ++k)
        if (const auto* mode = find(test, motions[k]))
            tap[static_cast<Eigen::Index>(k)] = tap_sd(*mode, piece.errors);
    const Eigen::Vector3d by_tap = (fit.by_frequency.cwiseAbs2() * tap.cwiseAbs2()).cwiseSqrt();
    const bool lone = taps.along_hz.has_value() != taps.across_hz.has_value();
    const bool mixed = plate::is_mixed(board, fit.wood);
    if (mixed)
        out.remarks.push_back(
            lone ? say("The board of {} is of such a length and width that its bending along and "
                       "across mix: tap both, one alone says little.",
                       date)
                 : say("The board of {} is of such a length and width that its bending along and "
                       "across mix; the fit allows for it.",
                       date));
    const auto take = [&](bool known, double modulus, double own, double geometry,
                          std::vector<LogReading>& into) {
        if (known && !(mixed && lone))
            into.push_back({std::log(modulus),
                            hypot_of({own, geometry, piece.mass(), 3.0 * piece.thickness()})});
    };
    take(taps.along_hz.has_value(), fit.wood.e_l_gpa, by_tap[0],
         hypot_of({3.0 * piece.along(), piece.across()}), out.e_l);
    take(taps.across_hz.has_value(), fit.wood.e_r_gpa, by_tap[1],
         hypot_of({3.0 * piece.across(), piece.along()}), out.e_r);
    take(taps.twist_hz.has_value(), fit.wood.g_lr_gpa, by_tap[2],
         hypot_of({piece.along(), piece.across()}), out.g_lr);
}

/// start: the handbook's, for shear corrections and as the board fit's beginning.
PieceReadings read_piece(const ledger::WoodTest& test, const plate::Wood& start,
                         const WoodErrors& errors) {
    PieceReadings out;
    read_dampings(test, out);
    const Measured piece{test.record, errors};
    const ledger::WoodTestRecord& r = test.record;
    if (!r.mass_g) {
        if (!test.modes.empty())
            out.remarks.push_back(say("The {} of {} was not weighed: its taps tell no constants.",
                                      ledger::to_text(r.piece), base::local_date(r.at)));
        return out;
    }
    out.density.push_back({std::log(piece.density_kg_m3()), piece.density_sd()});
    read_sound(test, piece, out);
    const auto* along = find(test, WoodMotion::along);
    const auto* across = find(test, WoodMotion::across);
    const auto* twist = find(test, WoodMotion::twist);
    if (along == nullptr && across == nullptr && twist == nullptr)
        return out;
    if (r.thin_edge_mm && *r.thin_edge_mm != r.thickness_mm) {
        out.remarks.push_back(
            say("The piece of {} is a wedge: only its sound tells constants, not its bending.",
                base::local_date(r.at)));
        return out;
    }
    if (along != nullptr && is_bar(r.along_mm, r.across_mm)) {
        read_bar(*along,
                 {r.along_mm, r.across_mm, piece.along(), piece.across(),
                  start.e_l_gpa / start.g_lt_gpa},
                 piece, out.e_l, out);
    } else if (across != nullptr && is_bar(r.across_mm, r.along_mm)) {
        read_bar(*across,
                 {r.across_mm, r.along_mm, piece.across(), piece.along(),
                  start.e_r_gpa / start.g_rt_gpa},
                 piece, out.e_r, out);
    } else {
        read_board(test, start, piece, out);
    }
    return out;
}

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

double mean_thickness_mm(const ledger::WoodTestRecord& test) {
    return test.thin_edge_mm ? 0.5 * (test.thickness_mm + *test.thin_edge_mm) : test.thickness_mm;
}

bool is_bar(double long_mm, double wide_mm) { return long_mm >= k_bar_shape * wide_mm; }

std::optional<double> moisture_of(const ledger::WoodTestRecord& test) {
    if (test.moisture_pct)
        return test.moisture_pct;
    ledger::SessionRecord air;
    air.temperature_c = test.temperature_c;
    air.humidity_pct = test.humidity_pct;
    return moisture_pct_of(air);
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
        figures.remarks.emplace_back(wording::say("Of a piece neither moisture nor air was noted: "
                                                  "its figures are as they were that day."));
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
    return measured_wood(*history.wood, moisture_pct_of(session));
}

std::string thickness_text(const ledger::WoodTestRecord& record) {
    std::string words = figure(record.thickness_mm, 2);
    return record.thin_edge_mm ? words + " / " + figure(*record.thin_edge_mm, 2) : words;
}

std::string motions_text(const ledger::WoodTest& test) {
    std::string words;
    for (const ledger::WoodModeRecord& mode : test.modes) {
        const std::string hz = figure(mode.frequency_hz, 1);
        words +=
            (words.empty() ? "" : "; ") +
            (mode.q ? say("{}: {} Hz, Q {}", ledger::to_text(mode.motion), hz, figure(*mode.q, 0))
                    : say("{}: {} Hz", ledger::to_text(mode.motion), hz));
        words +=
            " (" +
            (mode.taps == 0 ? say("typed") : wording::say_count(mode.taps, "{} tap", "{} taps")) +
            ")";
    }
    return words;
}

std::string line_of(const ledger::WoodTest& test) {
    const ledger::WoodTestRecord& r = test.record;
    std::string words =
        base::local_date(r.at) + ": " + std::string(ledger::to_text(r.piece)) + ", " +
        say("{} × {} × {} mm", figure(r.along_mm, 1), figure(r.across_mm, 1), thickness_text(r));
    if (r.mass_g)
        words += ", " + figure(*r.mass_g, 1) + " g";
    if (const auto moisture = moisture_of(r))
        words += ", " + (r.moisture_pct ? say("{} % moisture", figure(*moisture, 1))
                                        : say("{} % moisture by its air", figure(*moisture, 1)));
    const std::string motions = motions_text(test);
    return motions.empty() ? words : words + "; " + motions;
}

} // namespace platewright::trends
