#pragma once
#include <array>
#include <optional>
#include <string_view>

namespace platewright::taps {

/// Where on the plate a tap was struck: named places on the outline. Left and right as seen from
/// the outside, scroll end up. `unknown` where the maker did not say.
enum class Spot {
    unknown,
    centre,          ///< middle of the plate, on the centre line
    upper_end,       ///< edge at the neck, centre line
    lower_end,       ///< edge at the saddle or button end below, centre line
    upper_bout_left, ///< edge at the widest place of the upper bout
    upper_bout_right,
    waist_left, ///< edge at the narrowest place
    waist_right,
    lower_bout_left, ///< edge at the widest place of the lower bout
    lower_bout_right,
    bridge_bass, ///< of a closed instrument: the bridge's corner, sideways, bass side
    bridge_treble,
};
inline constexpr std::array k_spots{
    Spot::unknown,         Spot::centre,           Spot::upper_end,   Spot::lower_end,
    Spot::upper_bout_left, Spot::upper_bout_right, Spot::waist_left,  Spot::waist_right,
    Spot::lower_bout_left, Spot::lower_bout_right, Spot::bridge_bass, Spot::bridge_treble};

/// Whether it is a place of the closed instrument; every other one is a plate's.
constexpr bool is_on_bridge(Spot spot) {
    return spot == Spot::bridge_bass || spot == Spot::bridge_treble;
}

std::string_view to_word(Spot spot); ///< "upper_bout_left"
std::string_view to_text(Spot spot); ///< "upper bout, left"
std::optional<Spot> spot_from_word(std::string_view word);
/// From what to_text gives in any of the languages, in large or small letters, with whatever stands
/// between its words: "Oberbug links", "lobo superiore, sinistra", "Upper bout left".
std::optional<Spot> spot_from_text(std::string_view text);

} // namespace platewright::taps
