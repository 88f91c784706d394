#pragma once
/// Files that are either wholly there or not there at all, and the lock that keeps a second
/// program from writing.

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace platewright::ledger {

/// SHA-256 (FIPS 180-4) as 64 lower-case hexadecimal letters, as `sha256sum` prints it.
/// Threads: pure.
std::string sha256_hex(std::span<const std::byte> bytes);

/// Throws the base::Failure for an errno of writing `file`: a full disk, one that may not be
/// written to, a failing one.
[[noreturn]] void fail_to_write(int error, const std::filesystem::path& file);

/// Writes a file so that after a crash it is there complete or not at all: it is written and synced
/// in `staging` (a folder of the same file system), renamed to its name, and its folder synced.
/// Fails: base::Failure (disk full, read-only, device gone); the name is then untouched and the
/// temporary file removed. Cost: one or two disk flushes, some milliseconds. Threads: any.
void write_durably(const std::filesystem::path& file, std::span<const std::byte> bytes,
                   const std::filesystem::path& staging);

/// Renames a file that is synced already, and syncs the folder it goes to. Fails: base::Failure.
void rename_durably(const std::filesystem::path& from, const std::filesystem::path& to);

/// Syncs a file that another library wrote. Fails: base::Failure.
void sync_file(const std::filesystem::path& file);

/// Makes a folder and its parents, each of which is synced into the one above. Fails:
/// base::Failure.
void make_folder_durably(const std::filesystem::path& folder);

/// The same of a folder of the ledger's own. Fails: base::Failure where its name is a symbolic
/// link, which leads to somebody else's files.
void make_own_folder(const std::filesystem::path& folder);

/// The first of `names` that is a symbolic link within `folder`; nothing where none is.
std::optional<std::string_view> link_among(const std::filesystem::path& folder,
                                           std::span<const std::string_view> names);

/// Whether a file's name is that of a recording: 64 lower-case hexadecimal letters and ".flac".
bool is_recording_name(const std::filesystem::path& file);

/// Removes recordings that were being written when a program died. Whatever else lies there, links
/// and folders too, is left alone.
void clear_staging(const std::filesystem::path& staging);

/// Which file a name stands for just now; nothing where it stands for none.
struct FileIdentity {
    std::uint64_t device = 0, number = 0;
    bool operator==(const FileIdentity&) const = default;
};
std::optional<FileIdentity> identity_of(const std::filesystem::path& file);

/// The same with what every writing changes; two that are equal were not written to in between.
struct FileState {
    FileIdentity identity;
    std::int64_t size = 0, changed_s = 0, changed_ns = 0;
    bool operator==(const FileState&) const = default;
};
std::optional<FileState> state_of(const std::filesystem::path& file);

/// The whole file as bytes. Fails: base::Failure where it is no ordinary file or can't be read.
std::vector<std::byte> read_whole(const std::filesystem::path& file);

/// An exclusive claim on a folder, held while the object lives and let go by the system even
/// when the program is killed. taken() says whether it was to be had.
class FolderLock {
public:
    explicit FolderLock(const std::filesystem::path& lock_file);
    ~FolderLock();
    FolderLock(const FolderLock&) = delete;
    FolderLock& operator=(const FolderLock&) = delete;
    FolderLock(FolderLock&&) = delete;
    FolderLock& operator=(FolderLock&&) = delete;

    /// `unguarded`: this file system knows no locks, so nobody can tell whether another program
    /// writes.
    enum class Outcome { taken, unguarded, held_by_another, cannot_be_written };
    [[nodiscard]] Outcome outcome() const { return outcome_; }

private:
    int descriptor_ = -1;
    Outcome outcome_ = Outcome::cannot_be_written;
};

} // namespace platewright::ledger
