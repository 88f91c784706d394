#pragma once
/// Wood of a plate: the nine elastic constants of orthotropic wood and its density.
/// Axes: L along the grain, R across the rings, T along them. In a plate cut on the quarter whose
/// fibres lie in its plane, L is y, R is x and T goes through the thickness.

#include "wording/say.hpp"

#include <array>
#include <optional>
#include <string_view>

namespace platewright::plate {

/// How the wood lies in the plate, seen from the lower end with the outside up; radians.
struct GrainLie {
    bool operator==(const GrainLie&) const = default;
    /// Of the rings on the end grain off upright: above 0 they lean to the right (x) going up.
    double ring_rad = 0.0;
    /// Of the fibres off the plate's plane: above 0 they rise to the outside going to the upper
    /// end.
    double run_out_rad = 0.0;
};

/// Elastic constants (GPa), Poisson's ratios and density (kg/m^3) at the moisture the plate has.
/// nu_lr: contraction along R under stress along L; nu_rl follows as nu_lr * e_r / e_l.
struct Wood {
    double e_l_gpa = 0.0;
    double e_r_gpa = 0.0;
    double e_t_gpa = 0.0;
    double g_lr_gpa = 0.0;
    double g_lt_gpa = 0.0;
    double g_rt_gpa = 0.0;
    double nu_lr = 0.0;
    double nu_lt = 0.0;
    double nu_rt = 0.0;
    double density_kg_m3 = 0.0;
    GrainLie lie = {};
};

/// One row of the handbook: a species, its wood at 12 % moisture, and where the figures stand.
struct Species {
    std::string_view key;    // word for files and the command line
    wording::Phrase name;    // what the maker reads
    std::string_view source; // publication, and which figures are from memory
    Wood wood;
    double log_sd; // spread of the constants between trees: standard deviation of ln E
};

/// The species table. Source: Wood Handbook FPL-GTR-190 (2010), chapter 5, tables 5-1, 5-2, 5-3a;
/// E_L is 1.10 times the tabled bending modulus; density = 1000 * specific gravity * 1.12.
/// Each row says which of its figures are from memory, and which come from elsewhere.
std::array<Species, 8> const& species_table();

/// The row with this key, or nothing.
std::optional<Species> find_species(std::string_view key);

/// True if the constants are positive and the stiffness is positive definite.
bool is_physical(const Wood& wood);

} // namespace platewright::plate
