#pragma once
#include "base/result.hpp"
#include "plate/readings.hpp"
#include "plate/shape/outline.hpp"

#include <string_view>
#include <vector>

namespace platewright::plate {

/// Heights of the outside from lines "x, y, height" (mm); semicolons, tabs, commas or blanks
/// between, decimal comma accepted; up to six headlines are skipped. Faults name the line: no
/// three numbers, a height below nothing or over 60 mm, a place off the outline.
base::Result<std::vector<HeightReading>> heights_from_csv(std::string_view text,
                                                          const Outline& outline);

} // namespace platewright::plate
