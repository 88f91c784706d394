#pragma once
// Who says what is true of a plate under another arching than the model's, and what its maker has:
// taps of modes 1, 2 and 5 off by 0.5 %, scales by 0.3 %, calipers every 34 mm by 0.1 mm, the
// arch's height typed 0.5 mm off, heights by 0.2 mm.
#include "odd_archings.hpp"
#include "outside/plate_solid.hpp"
#include "plate/thickness/thickness.hpp"

#include <filesystem>
#include <memory>
#include <string>

namespace archings {

inline constexpr double k_tap_noise = 0.005, k_scales_noise = 0.003; // of the value
inline constexpr double k_caliper_mm = 0.1, k_height_mm = 0.2, k_arch_typed_mm = 0.5;
inline constexpr std::array<int, 3> k_named{1, 2, 5};
inline constexpr int k_modes = 10;

using Removal = std::function<double(Point)>;

/// Frequencies by number, 0 where a number can't be given, and of all other modes.
struct Seen {
    std::array<double, 3> named{};
    std::vector<double> others;
};
using Judge = std::function<Seen(const Removal&)>;

/// Named by shape before, and followed by likeness of shape after: a mode that has come to lie
// beside another may no longer look like its name.
struct Followed {
    const PlateModel& model;
    Eigen::MatrixXd before;
    std::array<ShapeName, 3> names{};
    Seen take(const Eigen::MatrixXd& shapes, const std::vector<double>& hz) {
        Seen found;
        std::vector<bool> is_named(hz.size());
        if (before.size() == 0) {
            before = shapes;
            names = ShapeJudge(model).names(shapes);
        }
        const auto now = follow(model, before, shapes);
        for (std::size_t k = 0; k < 3; ++k)
            if (const int index = mode_index(names, k_named[k]); index >= 0)
                if (const int at = now[static_cast<std::size_t>(index)]; at >= 0) {
                    found.named[k] = hz.at(static_cast<std::size_t>(at));
                    is_named[static_cast<std::size_t>(at)] = true;
                }
        for (std::size_t k = 0; k < hz.size(); ++k)
            if (!is_named[k])
                found.others.push_back(hz[k]);
        return found;
    }
};

inline std::vector<HeightReading> heights_at(const Judged& plate, const std::vector<Point>& places,
                                             double noise_mm, std::mt19937& random) {
    std::normal_distribution<double> normal;
    std::vector<HeightReading> heights;
    for (const Point p : places)
        heights.push_back({p, plate.outside_mm(p) + noise_mm * normal(random)});
    return heights;
}

/// A finer shell on the very surface.
struct ExactShell {
    PlateModel model;
    const Judged& plate;

    explicit ExactShell(const Judged& of, double fineness = 42.0)
        : model({of.outline, {of.shape.arch_mm, 4.0}, {}, {}, {}}, fineness), plate(of) {}
    ShellSurface surface(const Removal& removal) const {
        return {model.thickness_at([&](Point p) { return plate.outside_mm(p); }),
                model.thickness_at([&](Point p) { return plate.normal_z(p); }),
                model.thickness_at([&](Point p) { return plate.thickness_mm(p) - removal(p); })};
    }
    ShellModes modes(const Removal& removal) const {
        return model.solve(surface(removal), plate.wood, k_modes);
    }
};

inline Judge shell_judge(const Judged& plate) {
    const auto exact = std::make_shared<ExactShell>(plate);
    const auto followed = std::make_shared<Followed>(Followed{exact->model, {}});
    return [exact, followed](const Removal& removal) {
        const auto modes = exact->modes(removal);
        return followed->take(modes.shapes, {modes.frequency_hz.begin(), modes.frequency_hz.end()});
    };
}

/// Solids on two meshes, extrapolated to none.
inline Judge solid_judge(const Judged& plate, const PlateModel& namer) {
    const auto followed = std::make_shared<Followed>(Followed{namer, {}});
    return [&plate, &namer, followed](const Removal& removal) {
        constexpr double k_coarse_mm = 24.0, k_fine_mm = 17.0;
        outside::Solid body;
        body.top_mm = [&](Point p) { return plate.outside_mm(p); };
        body.bottom_mm = [&](Point p) {
            return plate.outside_mm(p) - (plate.thickness_mm(p) - removal(p)) / plate.normal_z(p);
        };
        body.wood = plate.wood;
        const auto folder =
            (std::filesystem::temp_directory_path() / "platewright-plate-archings").string();
        const auto solve = [&](double step_mm) {
            body.mesh = mesh_plan({plate.outline.rim, {}, {}}, step_mm);
            return outside::solve_solid(body, k_modes, folder, true);
        };
        const auto coarse = solve(k_coarse_mm), fine = solve(k_fine_mm);
        const double weight =
            k_fine_mm * k_fine_mm / (k_coarse_mm * k_coarse_mm - k_fine_mm * k_fine_mm);
        std::vector<double> hz;
        for (std::size_t k = 0; k < k_modes; ++k)
            hz.push_back(fine.frequency_hz[k] -
                         weight * (coarse.frequency_hz[k] - fine.frequency_hz[k]));
        return followed->take(outside::solid_shapes(namer, body.mesh, fine), hz);
    };
}

/// Which heights the maker types.
inline std::vector<Point> height_places(const Judged& plate, int count) {
    const double length = plate.outline.size.length_mm;
    std::vector<Point> places;
    if (count == 5)
        for (const double share : {0.08, 0.25, 0.5, 0.75, 0.92})
            places.push_back({0.0, share * length});
    if (count == 15)
        for (const double share : {0.2, 0.35, 0.5, 0.65, 0.8})
            for (const double side : {0.0, 0.35, 0.7}) {
                const auto e = plate.outline.extent(share * length);
                places.push_back({side * e.right_mm, share * length});
            }
    if (count == 42)
        places = grid_inside(plate.outline, 35.0);
    return places;
}

/// The plate as its maker knows it: the arch's height with a ruler's error, and so many heights.
inline PlateForm typed_form(const Judged& plate, int heights, std::mt19937& random) {
    PlateForm form{plate.outline, {}, {}, {}, {}};
    form.arching.arch_mm =
        plate.shape.arch_mm + k_arch_typed_mm * std::normal_distribution<double>()(random);
    form.heights = heights_at(plate, height_places(plate, heights), k_height_mm, random);
    return form;
}

inline double mass_g(const Judged& plate) {
    const ExactShell exact(plate);
    const ShellSurface surface = exact.surface([](Point) { return 0.0; });
    const WoodTable woods(exact.model.shell_wood(plate.wood));
    double kg = 0.0;
    for (std::size_t e = 0; e < exact.model.shell().facets(); ++e)
        kg += woods.mass_kg(exact.model.shell().facet(e, surface));
    return 1e3 * kg;
}

/// One session of a plate whose modes are these; heard: two thirds of the other modes and three
/// sounds that are none.
inline FitSession session_of(const Judged& plate, const PlateModel& model, const Seen& modes,
                             bool has_heard, std::mt19937& random) {
    std::normal_distribution<double> normal;
    std::vector<ThicknessReading> readings;
    for (const auto& p : grid_inside(plate.outline, 34.0))
        readings.push_back({p, plate.thickness_mm(p) + k_caliper_mm * normal(random), ""});
    const ThicknessMap map(readings, plate.outline, k_caliper_mm);
    FitSession session;
    session.thickness_mm = model.thickness_at([&](Point p) { return map.thickness_mm(p); });
    session.mass_g = mass_g(plate) * (1.0 + k_scales_noise * normal(random));
    for (std::size_t k = 0; k < 3; ++k) {
        const double noise = k_tap_noise * normal(random);
        if (modes.named[k] > 0.0)
            session.modes.push_back({k_named[k], modes.named[k] * (1.0 + noise), 0.0});
    }
    if (!has_heard)
        return session;
    std::mt19937 ear(static_cast<unsigned>(1e3 * modes.named[0]));
    std::uniform_real_distribution<double> even;
    for (const double hz : modes.others)
        if (even(ear) < 0.67)
            session.heard.push_back({hz * (1.0 + k_tap_noise * normal(ear)), 0.0});
    for (int k = 0; k < 3; ++k)
        session.heard.push_back({100.0 * std::pow(6.0, even(ear)), 0.0});
    return session;
}

} // namespace archings
