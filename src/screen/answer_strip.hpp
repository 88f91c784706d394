#pragma once
#include "screen/sight.hpp"

namespace platewright::screen {

/// What became of the newest strike, in a word, a shape and the colour of the whole strip; beside
/// it what to do where it was refused. Where nothing was struck yet, what is being waited for.
void draw_answer(const Sight& sight, const plot::Box& box);

/// The session's taps, newest at the right: a disc and a number for an accepted one, a cross and
/// the reason for a refused one; the one that stands apart from the others is marked.
void draw_tap_strip(const Sight& sight, const plot::Box& box);

} // namespace platewright::screen
