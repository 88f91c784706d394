#pragma once
#include "screen/view_context.hpp"

namespace platewright::screen {

/// Goes to the place whose key, F1 to F10, was struck.
void take_doors(Keys& keys, Place& place);

/// The doors to the places, one under another, and the light: a press leads there.
void draw_rail(const ViewContext& context, plot::Box box);

} // namespace platewright::screen
