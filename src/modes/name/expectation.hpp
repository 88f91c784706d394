#pragma once
#include "modes/mode.hpp"
#include "modes/name/spot_profile.hpp"
#include "modes/subject.hpp"

#include <array>
#include <optional>
#include <span>

namespace platewright::modes {

/// The names that can be given from what is known of plates in general.
inline constexpr std::array k_known_names{1, 2, 5};

/// A value on the logarithm's scale, believed to follow a normal distribution.
struct LogBelief {
    double centre = 0; ///< natural logarithm
    double sd = 1;
};

/// Where mode 1, 2 or 5 of such a plate is expected, frequency in Hz. Violin: Hutchins, Scientific
/// American, October 1981, and the usual finished ranges of the trade; viola and cello: scaled and
/// from King's regraduated cello (docs/sources.md#hutchins-1981, #king). From memory where marked
/// there: hence wide. Double bass: the cello's by f ∝ thickness / length² (8 mm for 5 mm, 1110 for
/// 755 mm), no source, hence widest; small sizes by their body's length. Rough plates lie higher,
/// by how much nobody has published.
LogBelief expected_frequency(int name, const Subject& subject);

/// Ratio of mode 2 to mode 1, and of mode 5 to mode 2, for a top or a back.
LogBelief expected_ratio_2_to_1(const Subject& subject);
LogBelief expected_ratio_5_to_2();

/// How mode 1, 2 or 5 answers at a spot, dB below its own strongest; nothing for Spot::unknown.
/// From the nodal lines (common practice, no source): mode 1 is still on the centre line, mode 2
/// moves most at the ends, mode 5 in the middle.
std::optional<double> expected_spot_db(int name, taps::Spot spot);

/// The same mode's change in frequency with the plate's mass: f ∝ mass^exponent as wood comes off
/// the inside evenly. Mode 5 follows the arch and so moves less: in King's cello 0.55 of mode 2
/// (docs/sources.md#king).
double mass_exponent(int name);

/// Log-likelihood ratio that `mode` bears `name` against its being any other mode, from what is
/// known of such plates: frequency, damping, level and spot profile. `profiles`: of a model of this
/// very plate; a name without one there has the general one.
double log_evidence(const Mode& mode, int name, const Subject& subject,
                    std::span<const SpotProfile> profiles);

/// Log-odds of not finding the mode at all, on the same scale: lower where spots were struck at
/// which it answers well.
double log_missing(int name, std::span<const Mode> modes);

/// Expected level differences, in deviations, between `name` and any other mode at a spot: what a
/// tap there would tell.
double telling_power(int name, taps::Spot spot);

} // namespace platewright::modes
