#pragma once
#include "screen/view_context.hpp"

namespace platewright::screen {

/// The plate on the bench, or the program where there is none.
std::string title_words(const bench::Snapshot& now);

/// A chip that says which air the figures are set over to; drawn wherever figures are that it
/// changes.
void draw_air(const ViewContext& context, const plot::Box& chip);

/// What stands above a view: the plate's name, what it is, its session, and what is known of that
/// at the bench; of the guide to a view, less.
void draw_title(const ViewContext& context, plot::Box box, bool in_guide);

} // namespace platewright::screen
