#pragma once
#include "screen/view_context.hpp"

namespace platewright::screen {

/// What became of the last strike, to be read from across the workshop: a solid field whose
/// luminance, form and word are its own for each state, and one tick a planned tap. It ages: a line
/// at its foot runs out, then the band listens again and keeps the last answer at its left.
void draw_verdict(const ViewContext& context, const plot::Box& box);

/// The same without the ticks, in a box of any height: for where there is no session.
void draw_verdict_alone(const ViewContext& context, const plot::Box& box);

} // namespace platewright::screen
