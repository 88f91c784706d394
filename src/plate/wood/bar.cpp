#include "plate/wood/bar.hpp"

#include <cmath>
#include <stdexcept>

namespace platewright::plate {
namespace {

// E of a slender bar at 1 Hz, in GPa: 0.9465 (m / b) (L / t)^3.
double slender_gpa_s2(const Bar& bar) {
    for (const double value : {bar.length_mm, bar.width_mm, bar.thickness_mm, bar.mass_g})
        if (!(value > 0.0))
            throw std::invalid_argument{"a bar's measures and mass are above 0"};
    const double slenderness = bar.length_mm / bar.thickness_mm;
    const double mass_kg = 1e-3 * bar.mass_g, width_m = 1e-3 * bar.width_mm;
    return 0.9465e-9 * mass_kg / width_m * slenderness * slenderness * slenderness;
}

} // namespace

double e1876_correction(double thickness_over_length, double nu) {
    const double x2 = thickness_over_length * thickness_over_length;
    return 1.0 + 6.585 * (1.0 + 0.0752 * nu + 0.8109 * nu * nu) * x2 - 0.868 * x2 * x2 -
           8.340 * (1.0 + 0.2023 * nu + 2.173 * nu * nu) * x2 * x2 /
               (1.0 + 6.338 * (1.0 + 0.1408 * nu + 1.536 * nu * nu) * x2);
}

double e1876_modulus_gpa(const Bar& bar, double frequency_hz, double poisson) {
    return slender_gpa_s2(bar) * frequency_hz * frequency_hz *
           e1876_correction(bar.thickness_mm / bar.length_mm, poisson);
}

double e1876_frequency_hz(const Bar& bar, double modulus_gpa, double poisson) {
    return std::sqrt(modulus_gpa / slender_gpa_s2(bar) /
                     e1876_correction(bar.thickness_mm / bar.length_mm, poisson));
}

double wood_bar_correction(double thickness_over_length, double e_over_g) {
    constexpr double k_rotary = 49.48, k_shear = 12.30 * 1.2;
    return 1.0 +
           thickness_over_length * thickness_over_length / 12.0 * (k_rotary + k_shear * e_over_g);
}

double wood_bar_modulus_gpa(const Bar& bar, double frequency_hz, double e_over_g) {
    return slender_gpa_s2(bar) * frequency_hz * frequency_hz *
           wood_bar_correction(bar.thickness_mm / bar.length_mm, e_over_g);
}

double wood_bar_frequency_hz(const Bar& bar, double modulus_gpa, double e_over_g) {
    return std::sqrt(modulus_gpa / slender_gpa_s2(bar) /
                     wood_bar_correction(bar.thickness_mm / bar.length_mm, e_over_g));
}

} // namespace platewright::plate
