#pragma once
#include "bench/sound/recorded_strikes.hpp"
#include "main/commands.hpp"
#include "screen/outside.hpp"

#include <string>

namespace platewright::cli {

struct WindowOptions {
    std::filesystem::path replay;
    modes::FitParams fit;
    bool is_band_said = false; ///< else it is the plate's own, or what the window remembers
    bench::RecordedStrikes recorded = {}; ///< for a first walk; empty: none
    screen::FirstWalk walk = screen::FirstWalk::none;
};

void add_window_options(CLI::App& app, WindowOptions& options);

/// The bench's engine with a window on it, until the maker closes it.
ExitCode open_window(const WindowOptions& options, const Common& common);

/// Opens the invented demo workshop in a window of its own, by `platewright demo` in another
/// process: from a ledger of its own in DemoWorkshop::usual_folder(), which is made the first time
/// (half a minute). Gives a sentence on what happens, or why nothing does. The ledger that is open
/// is not touched.
std::string open_demo(bool walk); ///< walk: at the beginning of a first walk

} // namespace platewright::cli
