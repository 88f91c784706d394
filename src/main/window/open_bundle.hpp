#pragma once
#include "main/commands.hpp"

namespace platewright::cli {

/// What a double click on a bundle does, and `platewright FILE`: shows what would come of taking it
/// in, asks (in the terminal, else in a window), and takes it in when told so. From a window the
/// program's own window then opens on the ledger.
ExitCode open_bundle(const std::filesystem::path& file, const Common& common);

} // namespace platewright::cli
