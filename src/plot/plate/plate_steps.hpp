#pragma once
#include "plot/plate/plate_picture.hpp"

#include <string>
#include <vector>

namespace platewright::plot {

// How a plate's field is cut into steps of one colour each, and what each step is called.

/// The ends of the scale; about zero they lie equally far from it.
struct Ends {
    double low = 0.0, high = 1.0;
};
Ends ends_of(const PlatePicture& picture);

/// One colour between two levels.
struct Step {
    double low = 0.0, high = 0.0; // the outermost reach to the ends of all numbers
    Colour colour = {};
};
std::vector<Step> steps_of(const PlatePicture& picture);

/// As many as tell the levels apart.
int decimals_for(const std::vector<double>& levels);
std::string value_text(double value, int decimals);
/// What the legend says of step `i`: below the first level, between two, above the last.
std::string step_text(const std::vector<double>& levels, std::size_t i, int decimals);

} // namespace platewright::plot
