#pragma once
#include "bars.hpp"

#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

namespace outside {

/// What `platewright read --json` prints for one recording: the program itself is run, so these
/// checks see what a maker sees. Throws std::runtime_error if it does not exit with 0.
nlohmann::json read_by_program(const std::filesystem::path& recording, const std::string& band);

/// A bar's sample as a microphone would have brought it: half a second of a quiet room before the
/// strike (Gaussian noise at -90 dBFS, seed fixed), for sampled instruments are cut right at it.
std::vector<float> with_room(const Bar& bar);

/// The same as a 32-bit float WAV at the bar's own rate, in `folder`.
std::filesystem::path write_with_room(const Bar& bar, const std::filesystem::path& folder);

/// As it was cut, right at the strike, with no quiet before it.
std::filesystem::path write_as_cut(const Bar& bar, const std::filesystem::path& folder);

/// The mode nearest to `hz`, or null where `reading` has none.
const nlohmann::json* nearest_mode(const nlohmann::json& reading, double hz);

} // namespace outside
