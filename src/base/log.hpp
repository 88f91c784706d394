#pragma once
#include <cstdint>
#include <filesystem>
#include <string_view>

namespace platewright::base {

/// Where the log lies: $XDG_STATE_HOME/platewright/log, else ~/.local/state/platewright/log (XDG
/// Base Directory Specification 0.8). Empty where neither is set.
std::filesystem::path log_file();

/// Adds a line: the moment, what was said to the maker, and what is behind it. The log holds at
/// most k_log_bytes, twice that with the one before (log.old). A log that can't be written is done
/// without. Threads: any; cost: opens and closes a file.
inline constexpr std::uintmax_t k_log_bytes = 256U << 10U;
void log(std::string_view said, std::string_view detail);

} // namespace platewright::base
