#pragma once
#include <filesystem>
#include <span>
#include <string>

namespace platewright::ledger {

struct NamedText {
    std::string name;
    std::string text;
};

/// Writes files into a folder, which is made where it is not there, so that after a crash each is
/// there as it was before or as it is now. A few are each synced; many are flushed at once with all
/// that their file system holds (Linux's syncfs). Fails: base::Failure; some of them may then be
/// written.
void write_together(const std::filesystem::path& folder, std::span<const NamedText> files);

} // namespace platewright::ledger
