#pragma once
#include "bench/sound/recorded_strikes.hpp"
#include "main/commands.hpp"
#include "screen/outside.hpp"

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

} // namespace platewright::cli
