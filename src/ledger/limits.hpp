#pragma once
#include "base/limits.hpp"
#include "plate/shape/outline.hpp"

namespace platewright::ledger {

// What window and command line take for the fields of records (columns.hpp). Wide: they catch a
// lost comma and a wrong field, and judge no plate (trends/review/mass_check knows what one of its
// kind weighs). Common practice, no source.

inline constexpr base::Limits k_mass{1, 20000, "g"}; ///< of a plate or a body: to a double bass
inline constexpr base::Limits k_temperature{-20, 60, "\u00b0C"};
inline constexpr base::Limits k_humidity{0, 100, "%"};
inline constexpr base::Limits k_body_length{150, 1400, "mm"}; ///< sixteenth violin to double bass
inline constexpr base::Limits k_density{100, 1500, "kg/m\u00b3"};

// Of a plate's shape.
inline constexpr base::Limits k_outline{20, plate::k_longest_mm, "mm"}; ///< its length and widths
inline constexpr base::Limits k_arch{2, 60, "mm"};
inline constexpr base::Limits k_edge{0.5, 20, "mm"};
inline constexpr base::Limits k_fullness{1.2, 8, ""};
inline constexpr base::Limits k_right_half{50, 200, "%"};   ///< of the left's
inline constexpr base::Limits k_rings{-90, 90, "\u00b0"};   ///< off upright; 90: slab-cut
inline constexpr base::Limits k_run_out{-20, 20, "\u00b0"}; ///< more no split wood has

// Of a piece of wood.
inline constexpr base::Limits k_along{10, 5000, "mm"};
inline constexpr base::Limits k_across{2, 2000, "mm"};
inline constexpr base::Limits k_thickness{0.5, 500, "mm"};
inline constexpr base::Limits k_thin_edge{0, 500, "mm"};
inline constexpr base::Limits k_unevenness{0, 50, "mm"};
inline constexpr base::Limits k_wood_mass{0.1, 100000, "g"};
inline constexpr base::Limits k_moisture{0, 200,
                                         "%"}; ///< of dry mass: green wood holds more than its own

// Of what is done by hand: a plate bent, a mass laid on it, a cut tried on its model.
inline constexpr base::Limits k_span{1, plate::k_longest_mm, "mm"};
inline constexpr base::Limits k_load{0.1, 1e5, "g"};
inline constexpr base::Limits k_deflection{0.001, 100, "mm"};
inline constexpr base::Limits k_laid_mass{0.05, 200, "g"};
inline constexpr base::Limits k_off_place{0, 50, "mm"};
inline constexpr base::Limits k_cut_depth{0.01, 3, "mm"};
inline constexpr base::Limits k_cut_across{15, 300, "mm"};

// What a mode is to come to, and what a plan keeps to.
inline constexpr base::Limits k_target{10, 20000, "Hz"};
inline constexpr base::Limits k_least_left{0.5, 15, "mm"};
inline constexpr base::Limits k_deepest_hollow{0.05, 5, "mm"};
inline constexpr base::Limits k_left_at_edge{0, 60, "mm"};
inline constexpr base::Limits k_pass_share{5, 100, "%"}; ///< of the whole

// What a wood's figures can be asked for: the moisture of dried wood, and how thick a plate or a
// board of it would be.
inline constexpr base::Limits k_asked_moisture{0, 30, "%"};
inline constexpr base::Limits k_asked_thickness{0.5, 50, "mm"};

} // namespace platewright::ledger
