#include "ledger/files/many_files.hpp"

#include "base/failure.hpp"
#include "ledger/files/file_safety.hpp"

#include <fcntl.h>
#include <fstream>
#include <unistd.h>

namespace platewright::ledger {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void fail_with_last_error(const fs::path& file) {
    throw base::Failure{
        "Facts could not be written beside the recordings; the ledger itself is safe.",
        file.string()};
}

/// All that was written to the folder's file system so far is on the disk after this.
void flush_all(const fs::path& folder) {
    const int descriptor = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (descriptor < 0)
        fail_with_last_error(folder);
    const int failed = ::syncfs(descriptor);
    ::close(descriptor);
    if (failed != 0)
        fail_with_last_error(folder);
}

} // namespace

void write_together(const fs::path& folder, std::span<const NamedText> files) {
    constexpr std::size_t k_few = 8;
    make_folder_durably(folder);
    const fs::path staging = folder / "unfinished";
    make_folder_durably(staging);
    if (files.size() <= k_few) {
        for (const NamedText& file : files)
            write_durably(folder / file.name, std::as_bytes(std::span{file.text}), staging);
        return;
    }
    for (const NamedText& file : files) {
        std::ofstream stream{staging / file.name, std::ios::binary | std::ios::trunc};
        stream << file.text;
        stream.close();
        if (!stream)
            fail_with_last_error(staging / file.name);
    }
    flush_all(staging); // before the renames: a name must never stand for a file that is half there
    for (const NamedText& file : files) {
        std::error_code error;
        fs::rename(staging / file.name, folder / file.name, error);
        if (error)
            fail_with_last_error(folder / file.name);
    }
    flush_all(folder);
}

} // namespace platewright::ledger
