#pragma once

namespace platewright::cli {

/// What the program tells the shell; the same for every command.
enum ExitCode : int {
    k_done = 0,
    k_failed = 1,        ///< the world failed: a device, a disk, a ledger
    k_wrong_usage = 2,   ///< the command line itself
    k_unusable = 3,      ///< input that can't be used, whole or in part
    k_nothing_found = 4, ///< no taps, no such plate
};

} // namespace platewright::cli
