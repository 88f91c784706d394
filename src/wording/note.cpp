#include "wording/note.hpp"

#include "base/level.hpp"
#include "wording/say.hpp"

#include <array>
#include <cmath>

namespace platewright::wording {
namespace {

using Names = std::array<std::string_view, 12>;
constexpr std::array<Names, 3> k_names{
    Names{"C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"},
    Names{"C", "Cis", "D", "Dis", "E", "F", "Fis", "G", "Gis", "A", "B", "H"},
    Names{"Do", "Do#", "Re", "Re#", "Mi", "Fa", "Fa#", "Sol", "Sol#", "La", "La#", "Si"}};
constexpr long k_a4 = 57; // half-tones above C0

} // namespace

std::string note_text(double hz, double pitch_hz) {
    if (!(hz > 0.0 && pitch_hz > 0.0)) {
        return {};
    }
    const double steps = base::cents(hz, pitch_hz) / 100.0;
    const long nearest = std::lround(steps);
    const long above_c0 = k_a4 + nearest;
    const long octave = above_c0 >= 0 ? above_c0 / 12 : (above_c0 - 11) / 12;
    const auto& names = k_names.at(static_cast<std::size_t>(spoken()));
    return say("{}{} {} cents", names.at(static_cast<std::size_t>(above_c0 - 12 * octave)), octave,
               signed_figure(100.0 * (steps - static_cast<double>(nearest)), 0));
}

} // namespace platewright::wording
