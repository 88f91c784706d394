#pragma once
/// Where the named spots lie on an outline.

#include "modes/mode.hpp"
#include "plate/mesh/mesh.hpp"
#include "plate/shape/outline.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace platewright::plate {

/// The place of a spot: edge spots lie 4 % of the widest width inside the edge, where a hammer can
/// strike. Nothing for Spot::unknown.
std::optional<Point> spot_place(const Outline& outline, taps::Spot spot);

/// A place by name: a spot's word ("upper_bout_left"), or nothing.
std::optional<Point> named_place(const Outline& outline, std::string_view name);

/// "x +12, y 240 mm", in the maker's language.
std::string place_text(Point p);

/// How strongly a mode of the model would answer a tap at a spot: dB relative to its strongest spot
/// (0 dB), what naming may set beside a session's own spot levels (modes::SpotLevel). Motion across
/// the plate only; nodes of the mode read -40 dB at the lowest.
struct SpotAmplitude {
    taps::Spot spot = taps::Spot::unknown;
    double level_db = 0.0;
};
std::vector<SpotAmplitude> spot_amplitudes(const Outline& outline, const PlanMesh& mesh,
                                           const Eigen::MatrixXd& shapes, int mode);

} // namespace platewright::plate
