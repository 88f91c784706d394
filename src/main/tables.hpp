#pragma once
#include "bench/sound/listening.hpp"
#include "modes/mode.hpp"

#include <span>
#include <string>

namespace platewright::cli {

std::string taps_table(std::span<const bench::HeardTap> taps);
/// `names` adds a column with the modes' names and how sure they are.
std::string modes_table(std::span<const modes::NamedMode> modes, bool names);
std::vector<modes::NamedMode> unnamed(std::span<const modes::Mode> modes);
/// "accepted at 0.80 s: 113.2, 176.4, 362.1 Hz", the strongest first partials.
std::string tap_line(const bench::HeardTap& tap);

} // namespace platewright::cli
