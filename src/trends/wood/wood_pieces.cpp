#include "trends/wood/wood_pieces.hpp"

#include "base/clock.hpp"
#include "base/text.hpp"
#include "plate/wood/bar.hpp"
#include "plate/wood/board.hpp"
#include "trends/wood/wood_figures.hpp"
#include "wording/say.hpp"

#include <cmath>

namespace platewright::trends {
namespace {

using ledger::WoodMotion;
using wording::say;

constexpr double k_slender = 20.0; // length over thickness of a bar that can be trusted
constexpr double k_bar_shape = 4.0;

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
        out.remarks.push_back(
            say("The bar of {} is only {} times as long as thick: shear makes its figure doubtful. "
                "Forty times is better.",
                base::local_date(piece.record.at), wording::figure(slenderness, 0)));
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
        out.remarks.push_back(say("No wood of this kind gives the board of {} these "
                                  "frequencies: is one of them another motion, or a "
                                  "measure mistyped?",
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
        out.remarks.push_back(lone ? say("The board of {} is of such a length and width that its "
                                         "bending along and across mix: tap "
                                         "both, one alone says little.",
                                         date)
                                   : say("The board of {} is of such a length and width that its "
                                         "bending along and across mix; the "
                                         "fit allows for it.",
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

} // namespace

double mean_thickness_mm(const ledger::WoodTestRecord& test) {
    return test.thin_edge_mm ? 0.5 * (test.thickness_mm + *test.thin_edge_mm) : test.thickness_mm;
}

bool is_bar(double long_mm, double wide_mm) { return long_mm >= k_bar_shape * wide_mm; }

PieceReadings read_piece(const ledger::WoodTest& test, const plate::Wood& start,
                         const WoodErrors& errors) {
    PieceReadings out;
    read_dampings(test, out);
    const Measured piece{test.record, errors};
    const ledger::WoodTestRecord& r = test.record;
    if (!r.mass_g) {
        if (!test.modes.empty())
            out.remarks.push_back(say("The {} of {} was not weighed: its taps tell no "
                                      "constants.",
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
        out.remarks.push_back(say("The piece of {} is a wedge: only its sound tells "
                                  "constants, not its bending.",
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

} // namespace platewright::trends
