#pragma once
#include "main/commands.hpp"

namespace platewright::cli {

struct WindowOptions {
    std::filesystem::path replay;
    modes::FitParams fit;
};

void add_window_options(CLI::App& app, WindowOptions& options);

/// The bench's engine with a window on it, until the maker closes it.
ExitCode open_window(const WindowOptions& options, const Common& common);

} // namespace platewright::cli
