#pragma once
#include "screen/view_context.hpp"

namespace platewright::screen {

/// The lanes one under another about one line, each with its name and frequency at the left, its
/// scale in the middle and its difference at the right. Where the box is narrow the scale goes
/// first.
void draw_lanes(const ViewContext& context, const plot::Box& box);

} // namespace platewright::screen
