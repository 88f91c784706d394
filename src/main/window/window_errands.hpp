#pragma once
#include "screen/outside.hpp"

namespace platewright::cli {

// What the window has done with files; each is what the command of the same kind does. Texts in the
// window's language. See screen/outside.hpp.

bench::Errand print_errand(const screen::PrintOrder& order);
bench::Errand bundle_out_errand(const screen::BundleOrder& order);
bench::Errand bundle_in_errand(const std::filesystem::path& file, bool only_look,
                               bool prefer_bundle);
bench::Errand enter_errand(const screen::EnterOrder& order);

/// Where a desktop keeps documents (XDG_DOCUMENTS_DIR, or what its user-dirs.dirs says), else the
/// home folder.
std::filesystem::path document_folder();
/// Shows a file with the desktop's program for it; gives a sentence where that can't be, else an
/// empty one.
std::string show_file(const std::filesystem::path& file);

} // namespace platewright::cli
