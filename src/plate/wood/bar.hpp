#pragma once
/// The lowest bending vibration of a free bar, and the modulus it tells.

namespace platewright::plate {

/// A bar of rectangular section; `thickness_mm` is in the direction of the motion.
struct Bar {
    double length_mm = 0.0;
    double width_mm = 0.0;
    double thickness_mm = 0.0;
    double mass_g = 0.0;
};

/// Correction T1 of the fundamental for thickness, of an isotropic bar.
/// T1 = 1 + 6.585 (1 + .0752 nu + .8109 nu^2) x^2 - .868 x^4
///      - 8.340 (1 + .2023 nu + 2.173 nu^2) x^4 / (1 + 6.338 (1 + .1408 nu + 1.536 nu^2) x^2),
/// x = thickness / length. Source: ASTM E1876-22, eq. for E by flexure, from memory; constants
/// checked against a worked bar (docs/sources.md#e1876).
double e1876_correction(double thickness_over_length, double poisson);

/// E = 0.9465 (m f^2 / b) (L / t)^3 T1, in GPa. Source: ASTM E1876, as above.
double e1876_modulus_gpa(const Bar& bar, double frequency_hz, double poisson);
/// The same the other way: the fundamental of a bar of this modulus.
double e1876_frequency_hz(const Bar& bar, double modulus_gpa, double poisson);

/// The same correction where E and G are not bound together as in an isotropic body: wood, whose
/// E/G is 5 to 20. T = 1 + x^2/12 (49.48 + 12.30 * 1.2 E/G), first order in x^2, for rotary inertia
/// and shear. Source: E. Goens, Ann. Physik 403 (1931), after R. F. S. Hearmon, Br. J. Appl. Phys.
/// 9 (1958), from memory; it gives E1876's own leading term with E/G = 2. The classic confusion:
/// E1876 as it stands reads wood too soft. Within 0.3 % where length >= 20 thickness and E/G <= 16.
double wood_bar_correction(double thickness_over_length, double e_over_g);
double wood_bar_modulus_gpa(const Bar& bar, double frequency_hz, double e_over_g);
double wood_bar_frequency_hz(const Bar& bar, double modulus_gpa, double e_over_g);

} // namespace platewright::plate
