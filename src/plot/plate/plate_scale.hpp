#pragma once
#include "plot/canvas.hpp"
#include "plot/plate/plate_picture.hpp"

#include <string>
#include <vector>

namespace platewright::plot {

/// How a plate's field is cut into steps of one colour each, and what each step is called.
struct PlateScale {
    /// One colour between two levels.
    struct Step {
        double low = 0.0, high = 0.0; // the outermost reach to the ends of all numbers
        Colour colour = {};
        std::string words = {}; // below the first level, between two, above the last
    };

    double low = 0.0, high = 1.0; // its ends; about zero they lie equally far from it
    std::vector<double> levels = {};
    std::vector<Step> steps = {}; // one more than levels
    int decimals = 0;             // as many as tell the levels apart

    std::string words_of(double level) const;
};

/// The picture's own; levels as levels_of gives them.
PlateScale scale_of(const PlatePicture& picture);

} // namespace platewright::plot
