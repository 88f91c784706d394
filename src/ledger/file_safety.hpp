#pragma once
/// Files that are either wholly there or not there at all, and the lock that keeps a second
/// program from writing.

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace platewright::ledger {

/// SHA-256 (FIPS 180-4) as 64 lower-case hexadecimal letters, as `sha256sum` prints it.
/// Threads: pure.
std::string sha256_hex(std::span<const std::byte> bytes);

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

/// Which file a name stands for just now; nothing where it stands for none.
struct FileIdentity {
    std::uint64_t device = 0, number = 0;
    bool operator==(const FileIdentity&) const = default;
};
std::optional<FileIdentity> identity_of(const std::filesystem::path& file);

/// The whole file as bytes. Fails: base::Failure naming it.
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

    enum class Outcome { taken, held_by_another, cannot_be_written };
    [[nodiscard]] Outcome outcome() const { return outcome_; }

private:
    int descriptor_ = -1;
    Outcome outcome_ = Outcome::cannot_be_written;
};

} // namespace platewright::ledger
