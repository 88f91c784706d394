// Invented plates whose wood is known, of the model's own family of archings: are they found again
// from noisy taps and calipers and an arch of which the height is known to half a millimetre, do
// the intervals hold the truth, and does the next pass do what was forecast? Modes 1, 2 and 5 bear
// their names; two thirds of the others are heard, and two sounds that are none.
//   plate_recovery [PLATES] [PLATES_BY_CALCULIX]        200 and 0 where not given
#include "outside/plate_solid.hpp"
#include "plate/fit/fit.hpp"
#include "plate/thickness/thickness.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <random>
#include <vector>

namespace {

using namespace platewright;
using namespace platewright::plate;

constexpr double k_tap_noise = 0.005; // of frequency
constexpr double k_caliper_mm = 0.05;
constexpr std::array<int, 3> k_named{1, 2, 5};
constexpr double k_heard = 0.67; // of the modes without a name, beside sounds that are none
constexpr int k_foreign = 2;
constexpr int k_modes = 10;
constexpr int k_told = static_cast<int>(FitUnknown::departures); // the family's own have none

struct Tally {
    int within = 0, of = 0;
    void count(bool is_within) {
        within += is_within ? 1 : 0;
        ++of;
    }
    double percent() const { return of > 0 ? 100.0 * within / of : 0.0; }
};

// The truth behind one plate.
struct Invented {
    PlateForm form;     // with the true arch
    PlateForm believed; // with the arch as measured
    PlateWood usual, wood;
    FitVector unknowns = FitVector::Zero();
    std::array<double, 6> shape{}; // of the graduation

    double thickness(Point p, double pass) const {
        const auto& size = form.outline.size;
        const double x = 2.0 * p.x_mm / size.lower_mm, y = 2.0 * p.y_mm / size.length_mm - 1.0;
        const double hollow =
            std::exp(-std::pow((x - shape[3]) / 0.5, 2) - std::pow((y - shape[4]) / 0.4, 2));
        return shape[0] + shape[1] * std::exp(-2.2 * y * y - 2.5 * x * x) + shape[2] * x -
               pass * (0.12 + shape[5] * hollow);
    }
};

Invented invent(std::mt19937& random) {
    const auto any = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    std::normal_distribution<double> normal;
    Invented plate;
    const double scale = any(0.97, 1.03);
    plate.believed.outline =
        *make_outline({355.0 * scale, 167.0 * scale, 110.0 * scale, 207.0 * scale});
    plate.believed.arching = {any(13.0, 17.0), 4.0};
    plate.form = plate.believed;
    const ArchPriors arch;
    const double arch_error = arch.height_mm * normal(random);
    const double along = arch.log_fullness * normal(random);
    const double across = arch.log_fullness * normal(random);
    const double ends = arch.log_ends * normal(random), sides = arch.log_ends * normal(random);
    plate.form.arching.arch_mm += arch_error;
    plate.form.arching.long_fullness *= std::exp(along);
    plate.form.arching.cross_fullness *= std::exp(across);
    plate.form.arching.long_ends *= std::exp(ends);
    plate.form.arching.cross_ends *= std::exp(sides);
    const Wood w = find_species("red_maple")->wood;
    plate.usual = {w, w};
    const FitPriors priors;
    for (int k = 0; k < 4; ++k)
        plate.unknowns[k] = priors.log_wood[k] * normal(random);
    plate.unknowns[static_cast<int>(FitUnknown::ring)] = priors.ring_rad * normal(random);
    plate.unknowns[static_cast<int>(FitUnknown::run_out)] = priors.run_out_rad * normal(random);
    plate.unknowns[static_cast<int>(FitUnknown::density)] = priors.log_density * normal(random);
    plate.unknowns.segment<k_arch_profile>(k_first_arch_unknown) << arch_error, along, across, ends,
        sides;
    plate.wood = changed(plate.usual, plate.unknowns.head<k_wood_unknowns>());
    plate.wood.left.density_kg_m3 *=
        std::exp(plate.unknowns[static_cast<int>(FitUnknown::density)]);
    plate.wood.right.density_kg_m3 = plate.wood.left.density_kg_m3;
    plate.shape = {any(2.9, 3.4),  any(0.6, 1.9),  any(-0.1, 0.1),
                   any(-0.4, 0.4), any(-0.5, 0.5), any(0.1, 0.3)};
    return plate;
}

struct NamedModes {
    std::array<ShapeName, 3> names;
    std::vector<double> hz;
};

NamedModes by_model(const Invented& plate, const PlateModel& model, double pass) {
    const auto h = model.thickness_at([&](Point p) { return plate.thickness(p, pass); });
    const auto modes = model.solve(h, plate.wood, k_modes);
    return {ShapeJudge(model).names(modes.shapes),
            {modes.frequency_hz.begin(), modes.frequency_hz.end()}};
}

// From solids on two meshes, extrapolated to none; named by the motion of the solid's own surface.
NamedModes by_solids(const Invented& plate, const PlateModel& model, double pass) {
    constexpr double k_coarse_mm = 24.0, k_fine_mm = 17.0;
    outside::Solid body;
    body.top_mm = [&](Point p) { return model.arching().height_mm(p); };
    body.bottom_mm = [&](Point p) {
        return model.arching().height_mm(p) -
               plate.thickness(p, pass) / model.arching().normal_z(p);
    };
    body.wood = plate.wood;
    const auto folder =
        (std::filesystem::temp_directory_path() / "platewright-plate-recovery").string();
    const auto solve = [&](double step_mm) {
        body.mesh = mesh_plan({plate.form.outline.rim, {}, {}}, step_mm);
        return outside::solve_solid(body, k_modes, folder, true);
    };
    const auto coarse = solve(k_coarse_mm), fine = solve(k_fine_mm);
    const double weight =
        k_fine_mm * k_fine_mm / (k_coarse_mm * k_coarse_mm - k_fine_mm * k_fine_mm);
    NamedModes solid{outside::solid_names(model, body.mesh, fine), {}};
    for (std::size_t k = 0; k < k_modes; ++k)
        solid.hz.push_back(fine.frequency_hz[k] -
                           weight * (coarse.frequency_hz[k] - fine.frequency_hz[k]));
    return solid;
}

// The true frequencies of modes 1, 2 and 5; 0 where no mode bears the number.
std::array<double, 3> true_hz(const NamedModes& modes) {
    std::array<double, 3> hz{};
    for (std::size_t k = 0; k < 3; ++k)
        if (const int index = mode_index(modes.names, k_named[k]); index >= 0)
            hz[k] = modes.hz[static_cast<std::size_t>(index)];
    return hz;
}

// What the maker has of one session: calipers, balance and taps.
FitSession measure(const Invented& plate, const PlateModel& truth, const PlateModel& believed,
                   double pass, const NamedModes& modes, std::mt19937& random) {
    std::normal_distribution<double> normal;
    std::vector<ThicknessReading> readings;
    for (const auto& p : grid_inside(plate.form.outline, 34.0))
        readings.push_back({p, plate.thickness(p, pass) + k_caliper_mm * normal(random), ""});
    const ThicknessMap map(readings, plate.form.outline, k_caliper_mm);
    FitSession session;
    session.thickness_mm = believed.thickness_at([&](Point p) { return map.thickness_mm(p); });
    const auto h = truth.thickness_at([&](Point p) { return plate.thickness(p, pass); });
    session.mass_g = truth.mass_g(h, plate.wood) * (1.0 + 0.003 * normal(random));
    const auto hz = true_hz(modes);
    for (std::size_t k = 0; k < 3; ++k)
        if (hz[k] > 0.0)
            session.modes.push_back(
                {k_named[k], hz[k] * (1.0 + k_tap_noise * normal(random)), 0.0});
    std::uniform_real_distribution<double> even;
    std::mt19937 ear(random); // the plates stay the same, whatever is heard of them
    ear.discard(500);
    for (const double other : modes.hz)
        if (std::ranges::find(hz, other) == hz.end() && even(ear) < k_heard)
            session.heard.push_back({other * (1.0 + k_tap_noise * normal(ear)), 0.0});
    for (int k = 0; k < k_foreign; ++k)
        session.heard.push_back({modes.hz.front() * std::pow(6.0, even(ear)), 0.0});
    return session;
}

struct Tallies {
    std::array<Tally, k_fit_unknowns> unknowns;
    std::array<Tally, 3> forecasts, intervals;
    Tally settled, told, right; // of what was heard, and of what was told
};

void one_plate(std::mt19937& random, bool is_solid, Tallies& tallies) {
    const Invented plate = invent(random);
    const PlateModel truth(plate.form), believed(plate.believed);
    std::vector<NamedModes> modes;
    for (const double pass : {0.0, 1.0, 2.0})
        modes.push_back(is_solid ? by_solids(plate, truth, pass) : by_model(plate, truth, pass));
    const std::vector<FitSession> sessions{measure(plate, truth, believed, 0.0, modes[0], random),
                                           measure(plate, truth, believed, 1.0, modes[1], random)};
    const auto fit = fit_wood(believed, plate.usual, sessions);
    tallies.settled.count(fit.status == FitStatus::ok);
    if (is_solid)
        std::printf("plate %d:%s", tallies.settled.of,
                    fit.status == FitStatus::ok ? "" : " fit did not settle\n");
    if (fit.status != FitStatus::ok)
        return;
    for (const FitSession& s : sessions)
        for (std::size_t k = 0; k < s.heard.size(); ++k)
            tallies.told.count(false);
    for (const FitResidual& r : fit.residuals)
        if (r.row == FitRow::series) {
            ++tallies.told.within;
            const double is = modes[r.session].hz[static_cast<std::size_t>(r.number - 1)];
            tallies.right.count(std::abs(r.measured / is - 1.0) < 4.0 * k_tap_noise);
        }
    for (int k = 0; k < k_told; ++k)
        tallies.unknowns[static_cast<std::size_t>(k)].count(
            std::abs(fit.unknowns[k] - plate.unknowns[k]) <
            1.96 * fit.sd(static_cast<FitUnknown>(k)));
    // the next pass: what is taken is known, what was there is known from the calipers
    const auto taken = believed.thickness_at(
        [&](Point p) { return plate.thickness(p, 1.0) - plate.thickness(p, 2.0); });
    const auto now = fitted_state(believed, fit, sessions[1].thickness_mm);
    const auto then =
        fitted_state(believed, fit, sessions[1].thickness_mm - taken, now.modes.shapes);
    for (const auto& f : forecast_shifts(believed, fit, now, then, k_named)) {
        const std::size_t k = f.number == 1 ? 0 : f.number == 2 ? 1 : 2;
        const double was = true_hz(modes[1])[k], is = true_hz(modes[2])[k];
        if (was <= 0.0 || is <= 0.0)
            continue;
        const double seen = is - was;
        tallies.forecasts[k].count(std::abs(f.shift_hz - seen) <=
                                   std::max(0.2 * std::abs(seen), 0.5));
        tallies.intervals[k].count(std::abs(f.shift_hz - seen) <= 1.96 * f.shift_sd_hz);
        if (is_solid)
            std::printf(" mode %d %.2f +- %.2f (%.2f)", f.number, f.shift_hz, 1.96 * f.shift_sd_hz,
                        seen);
    }
    if (is_solid) {
        std::printf("; forecast Hz (by solids)\n");
        std::fflush(stdout);
    }
}

void run(int plates, bool is_solid) {
    std::mt19937 random(is_solid ? 12 : 3);
    Tallies tallies;
    for (int k = 0; k < plates; ++k)
        one_plate(random, is_solid, tallies);
    std::printf("%d plates made by %s: fit settled on %d\n", plates,
                is_solid ? "CalculiX" : "the model", tallies.settled.within);
    std::printf("  of %d heard modes %d told, %.1f %% of them rightly\n", tallies.told.of,
                tallies.told.within, tallies.right.percent());
    const std::array<const char*, k_told> names{"E_L",     "E_R",     "G_LR", "rest", "rings",
                                                "run-out", "density", "map",  "arch", "along",
                                                "across",  "ends",    "sides"};
    for (std::size_t k = 0; k < names.size(); ++k)
        std::printf("  95 %% interval of %-9s holds the truth in %5.1f %%\n", names[k],
                    tallies.unknowns[k].percent());
    for (std::size_t k = 0; k < 3; ++k)
        std::printf(
            "  mode %d: shift forecast within 20 %% or 0.5 Hz in %5.1f %%, its 95 %% interval "
            "holds in %5.1f %% of %d\n",
            k_named[k], tallies.forecasts[k].percent(), tallies.intervals[k].percent(),
            tallies.forecasts[k].of);
}

} // namespace

int main(int argc, char** argv) {
    const int by_model = argc > 1 ? std::atoi(argv[1]) : 200;
    if (by_model > 0)
        run(by_model, false);
    if (argc > 2 && std::atoi(argv[2]) > 0)
        run(std::atoi(argv[2]), true);
}
