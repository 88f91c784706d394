#include "main/open_window.hpp"

#include "bench/engine.hpp"
#include "screen/window.hpp"

namespace platewright::cli {

void add_window_options(CLI::App& app, WindowOptions& options) {
    app.add_option("--replay", options.replay, "In the window: a recording, as if live, in place of a microphone")
        ->type_name("FILE");
    add_band(app, options.fit);
}

ExitCode open_window(const WindowOptions& options, const Common& common) {
    bench::Engine engine({.ledger_folder = common.ledger_folder(),
                          .replay = options.replay,
                          .low_hz = options.fit.low_hz,
                          .high_hz = options.fit.high_hz,
                          .woken = screen::wake_window});
    const screen::Bench bench{.snapshot = [&] { return engine.snapshot(); },
                              .send = [&](bench::Command command) { engine.send(std::move(command)); }};
    return static_cast<ExitCode>(screen::run_window(bench));
}

} // namespace platewright::cli
