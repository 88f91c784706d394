#pragma once
#include "bench/command.hpp"
#include "bench/snapshot.hpp"
#include "screen/outside.hpp"

#include <functional>

namespace platewright::screen {

/// What the window needs of the bench: the newest snapshot, and a way to send commands.
struct Bench {
    std::function<std::shared_ptr<const bench::Snapshot>()> snapshot; ///< never null; does not wait
    std::function<void(bench::Command)> send;
    Outside outside;
    FirstWalk walk = FirstWalk::none;
};

/// Opens the window and runs it until the maker closes it; gives the program's exit code.
/// Throws base::Failure where no window can be opened (no display).
/// Threads: the main thread only.
int run_window(const Bench& bench);

/// Wakes a window that waits for something to happen; from any thread.
void wake_window();

} // namespace platewright::screen
