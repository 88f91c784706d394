#include "plate/wood/wood.hpp"

#include "plate/element/laminate.hpp"

#include <Eigen/Cholesky>

#include <algorithm>

namespace platewright::plate {
namespace {

// Ratios to E_L as the handbook tabulates them.
struct Ratios {
    double e_t, e_r, g_lr, g_lt, g_rt, nu_lr, nu_lt, nu_rt;
};

constexpr Wood from_ratios(double e_l_gpa, const Ratios& r, double density_kg_m3) {
    return {e_l_gpa,          e_l_gpa * r.e_r, e_l_gpa * r.e_t, e_l_gpa * r.g_lr, e_l_gpa * r.g_lt,
            e_l_gpa * r.g_rt, r.nu_lr,         r.nu_lt,         r.nu_rt,          density_kg_m3};
}

// E_L = 1.10 x tabled bending modulus; density = 1000 x specific gravity x 1.12
constexpr double k_shear_correction = 1.10;
constexpr double k_with_water = 1.12;
// Standard deviation of ln E within a species; common practice, no source.
constexpr double k_usual_spread = 0.20;
constexpr double k_guessed_spread = 0.30; // of a species whose ratios are another's; a guess, wider

const std::array<Species, 8> k_table{{
    {"sitka_spruce", "Sitka spruce",
     "Wood Handbook FPL-GTR-190, tables 5-1 and 5-2; modulus and gravity (table 5-3a) from memory",
     from_ratios(k_shear_correction * 10.8, {.043, .078, .064, .061, .003, .372, .467, .435},
                 400.0 * k_with_water),
     k_usual_spread},
    {"engelmann_spruce", "Engelmann spruce",
     "Wood Handbook FPL-GTR-190, tables 5-1, 5-2 and 5-3a, from memory",
     from_ratios(k_shear_correction * 8.9, {.059, .128, .124, .120, .010, .422, .462, .530},
                 350.0 * k_with_water),
     k_usual_spread},
    {"norway_spruce", "Norway spruce (tonewood)",
     "McIntyre and Woodhouse, Acta Metall. 36 (1988), plate constants from memory; the ratios not "
     "given there are Sitka spruce's",
     from_ratios(13.0, {.043, .077, .053, .055, .003, .372, .467, .435}, 420.0), k_usual_spread},
    {"sugar_maple", "Sugar maple",
     "Wood Handbook FPL-GTR-190, tables 5-1 and 5-2; modulus and gravity (table 5-3a) from memory; "
     "G_RT is not tabled, 0.021 E_L as other hardwoods have it, from memory",
     from_ratios(k_shear_correction * 12.6, {.065, .132, .111, .063, .021, .424, .476, .774},
                 630.0 * k_with_water),
     k_usual_spread},
    {"red_maple", "Red maple (near European sycamore in weight)",
     "Wood Handbook FPL-GTR-190, tables 5-1, 5-2 and 5-3a, from memory; G_RT as for sugar maple",
     from_ratios(k_shear_correction * 11.3, {.067, .140, .133, .074, .021, .434, .509, .762},
                 540.0 * k_with_water),
     k_usual_spread},
    {"european_maple", "European maple (sycamore)",
     "Acer pseudoplatanus: R. F. S. Hearmon, The elasticity of wood and plywood (1948), maple at "
     "590 "
     "kg/m3, from memory",
     from_ratios(10.0, {.087, .152, .122, .110, .029, .46, .50, .82}, 590.0), k_usual_spread},
    {"poplar", "Poplar",
     "Populus alba: density and bending modulus by timberpolis.co.uk (white poplar, 440 kg/m3, 8.9 "
     "GPa); ratios of eastern cottonwood, Wood Handbook FPL-GTR-190, tables 5-1 and 5-2, from "
     "memory; G_RT as for sugar maple",
     from_ratios(k_shear_correction * 8.9, {.047, .083, .076, .052, .021, .344, .420, .875}, 440.0),
     k_usual_spread},
    {"willow", "Willow",
     "Salix nigra: Wood Handbook FPL-GTR-190, table 5-3a (7.0 GPa, gravity 0.39), from memory; no "
     "ratios are tabled, and those of cottonwood, of the same family, stand in",
     from_ratios(k_shear_correction * 7.0, {.047, .083, .076, .052, .021, .344, .420, .875},
                 390.0 * k_with_water),
     k_guessed_spread},
}};

} // namespace

std::array<Species, 8> const& species_table() { return k_table; }

std::optional<Species> find_species(std::string_view key) {
    const auto found = std::find_if(k_table.begin(), k_table.end(),
                                    [&](const Species& s) { return s.key == key; });
    return found == k_table.end() ? std::nullopt : std::optional(*found);
}

bool is_physical(const Wood& w) {
    for (const double value :
         {w.e_l_gpa, w.e_r_gpa, w.e_t_gpa, w.g_lr_gpa, w.g_lt_gpa, w.g_rt_gpa, w.density_kg_m3})
        if (!(value > 0.0))
            return false;
    const Compliance scaled = compliance_of(w) * (w.e_l_gpa * 1e9);
    return scaled.llt().info() == Eigen::Success;
}

} // namespace platewright::plate
