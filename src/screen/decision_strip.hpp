#pragma once
#include "screen/sight.hpp"

namespace platewright::screen {

/// Stop, or take more: the plate's decision in a sentence that is read from two metres, and its
/// reason below it, as trends::decide has it. Draws into the box from its top and gives the height
/// it took: without the reason where there is no room for it, nothing where there is none for the
/// sentence, or no plate.
double draw_decision(const Sight& sight, const plot::Box& box);
/// What that height will be in a box so wide.
double decision_height(const Sight& sight, double width);

} // namespace platewright::screen
