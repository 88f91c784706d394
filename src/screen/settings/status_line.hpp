#pragma once
#include "screen/view_context.hpp"

#include <string>
#include <string_view>

namespace platewright::screen {

/// The input, along the foot of the window: level in dBFS with the room's noise, the input and its
/// state, sound lost so far, and whether the ledger can be written. Where parts are stacked only
/// what matters most just now, else `plate` where it is given.
void draw_status(const ViewContext& context, const plot::Box& box, std::string_view plate);

/// The level as a bar from −72 to 0 dBFS in steps of 3 dB, the room's noise as a tick.
void draw_meter(const ViewContext& context, const plot::Box& box);

/// The level in whole dBFS, or a dash where there is none to speak of: the same wherever it is
/// shown.
std::string level_text(const bench::InputStatus& input);

/// How many steps of the meter a level lights: pictures need redrawing only when it changes.
int meter_steps(double level_dbfs);

} // namespace platewright::screen
