#pragma once
#include "screen/sight.hpp"

namespace platewright::screen {

/// One mode in figures to be read from across the bench: frequency, spread, Q, how sure its name
/// is, change since the last session and against the reference. Where it was not found yet: how the
/// plate is held and struck for it.
void draw_figure(const Sight& sight, const bench::ModeView& mode, const plot::Box& box);

/// The same in one low row: the figure, and beside it what has changed.
void draw_figure_row(const Sight& sight, const bench::ModeView& mode, const plot::Box& box);

} // namespace platewright::screen
