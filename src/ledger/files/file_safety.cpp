#include "ledger/files/file_safety.hpp"

#include "base/failure.hpp"
#include "wording/say.hpp"

#include <array>
#include <cerrno>
#include <fcntl.h>
#include <openssl/evp.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>
#include <utility>

namespace platewright::ledger {
namespace {

using wording::say;

[[noreturn]] void fail(int error, const std::filesystem::path& file) { fail_to_write(error, file); }

// A descriptor that closes itself; closing errors are checked where they matter, by fsync.
class Descriptor {
public:
    Descriptor(const std::filesystem::path& file, int flags)
        : value_{::open(file.c_str(), flags | O_CLOEXEC, 0644)} {
        if (value_ < 0)
            fail(errno, file);
    }
    ~Descriptor() { ::close(value_); }
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    Descriptor(Descriptor&&) = delete;
    Descriptor& operator=(Descriptor&&) = delete;

    [[nodiscard]] int get() const { return value_; }

private:
    int value_;
};

void write_all(int descriptor, std::span<const std::byte> bytes,
               const std::filesystem::path& file) {
    while (!bytes.empty()) {
        const ssize_t written = ::write(descriptor, bytes.data(), bytes.size());
        if (written < 0) {
            if (errno == EINTR)
                continue;
            fail(errno, file);
        }
        bytes = bytes.subspan(static_cast<std::size_t>(written));
    }
}

void sync(int descriptor, const std::filesystem::path& file) {
    if (::fsync(descriptor) != 0)
        fail(errno, file);
}

void sync_folder(const std::filesystem::path& folder) {
    const Descriptor descriptor{folder.empty() ? "." : folder, O_RDONLY | O_DIRECTORY};
    // Some file systems (memory sticks, network folders) know no syncing of folders.
    if (::fsync(descriptor.get()) != 0 && errno != EINVAL && errno != ENOTSUP)
        fail(errno, folder);
}

} // namespace

void fail_to_write(int error, const std::filesystem::path& file) {
    std::string_view sentence =
        say("A file of the ledger could not be written, so this was not kept. Check the disk; "
            "everything shown as kept before is safe.");
    if (error == ENOSPC || error == EDQUOT || error == EFBIG) {
        sentence = say("The disk is full, so this was not kept. Free some space and do it again; "
                       "everything shown as kept before is safe.");
    } else if (error == EROFS || error == EACCES || error == EPERM) {
        sentence = say("The ledger's folder cannot be written to, so this was not kept. Allow "
                       "writing to it, or copy the ledger to a folder of your own.");
    }
    throw base::Failure{std::string(sentence),
                        file.string() + ": " + std::generic_category().message(error)};
}

std::string sha256_hex(std::span<const std::byte> bytes) {
    std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
    unsigned int size = 0;
    if (EVP_Digest(bytes.data(), bytes.size(), digest.data(), &size, EVP_sha256(), nullptr) != 1) {
        throw base::Failure{"A recording could not be given its name, so it was not kept.",
                            "SHA-256 is not available in this OpenSSL"};
    }
    constexpr std::string_view k_hex = "0123456789abcdef";
    std::string text;
    for (unsigned int i = 0; i < size; ++i) {
        text += k_hex[digest.at(i) >> 4U];
        text += k_hex[digest.at(i) & 15U];
    }
    return text;
}

std::optional<FileIdentity> identity_of(const std::filesystem::path& file) {
    struct stat facts {};
    if (::stat(file.c_str(), &facts) != 0)
        return std::nullopt;
    return FileIdentity{facts.st_dev, facts.st_ino};
}

std::optional<FileState> state_of(const std::filesystem::path& file) {
    struct stat facts {};
    if (::stat(file.c_str(), &facts) != 0)
        return std::nullopt;
    return FileState{
        {facts.st_dev, facts.st_ino}, facts.st_size, facts.st_mtim.tv_sec, facts.st_mtim.tv_nsec};
}

void rename_durably(const std::filesystem::path& from, const std::filesystem::path& to) {
    if (::rename(from.c_str(), to.c_str()) != 0)
        fail(errno, to);
    sync_folder(to.parent_path());
}

void sync_file(const std::filesystem::path& file) {
    const Descriptor descriptor{file, O_RDONLY};
    sync(descriptor.get(), file);
}

void write_durably(const std::filesystem::path& file, std::span<const std::byte> bytes,
                   const std::filesystem::path& staging) {
    const std::filesystem::path temporary = staging / file.filename();
    try {
        {
            // A leftover of this name goes; were it a link, what it points to is not written over.
            ::unlink(temporary.c_str());
            const Descriptor descriptor{temporary, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW};
            write_all(descriptor.get(), bytes, temporary);
            sync(descriptor.get(), temporary);
        }
        rename_durably(temporary, file);
    } catch (const base::Failure&) {
        ::unlink(temporary.c_str()); // frees the space it took; a failure here changes nothing
        throw;
    }
}

void make_folder_durably(const std::filesystem::path& folder) {
    std::error_code error;
    if (folder.empty() || std::filesystem::is_directory(folder, error))
        return;
    make_folder_durably(folder.parent_path());
    if (::mkdir(folder.c_str(), 0755) != 0 && errno != EEXIST)
        fail(errno, folder);
    sync_folder(folder.parent_path());
}

void make_own_folder(const std::filesystem::path& folder) {
    std::error_code error;
    if (std::filesystem::is_symlink(folder, error))
        throw base::Failure{say("“{}” in the ledger is a link to another place, so nothing was "
                                "written there. Put a "
                                "folder in its place.",
                                folder.filename().string()),
                            folder.string()};
    make_folder_durably(folder);
}

std::optional<std::string_view> link_among(const std::filesystem::path& folder,
                                           std::span<const std::string_view> names) {
    std::error_code error;
    for (const std::string_view name : names)
        if (std::filesystem::is_symlink(folder / name, error))
            return name;
    return std::nullopt;
}

bool is_recording_name(const std::filesystem::path& file) {
    constexpr std::size_t k_letters = 64;
    const std::string stem = file.stem().string();
    return file.extension() == ".flac" && stem.size() == k_letters &&
           stem.find_first_not_of("0123456789abcdef") == std::string::npos;
}

void clear_staging(const std::filesystem::path& staging) {
    std::error_code error; // a leftover that stays does no harm
    if (std::filesystem::is_symlink(staging, error))
        return;
    for (const auto& entry : std::filesystem::directory_iterator{staging, error})
        if (entry.symlink_status(error).type() == std::filesystem::file_type::regular &&
            is_recording_name(entry.path()))
            std::filesystem::remove(entry.path(), error);
}

std::vector<std::byte> read_whole(const std::filesystem::path& file) {
    const auto fail_to_read = [&file](int error) {
        throw base::Failure{say("A file of the ledger could not be read; nothing was changed."),
                            file.string() + ": " + std::generic_category().message(error)};
    };
    // Without waiting: a pipe of this name would keep the program until somebody writes into it.
    const int descriptor = ::open(file.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    if (descriptor < 0)
        fail_to_read(errno);
    struct CloseAtEnd {
        ~CloseAtEnd() { ::close(descriptor); }
        int descriptor;
    } const close_at_end{descriptor};
    struct stat facts {};
    if (::fstat(descriptor, &facts) != 0 || !S_ISREG(facts.st_mode))
        fail_to_read(EINVAL);
    std::vector<std::byte> bytes(static_cast<std::size_t>(facts.st_size));
    for (std::size_t have = 0; have < bytes.size();) {
        const ssize_t count = ::read(descriptor, bytes.data() + have, bytes.size() - have);
        if (count < 0 && errno == EINTR)
            continue;
        if (count <= 0)
            fail_to_read(count < 0 ? errno : EIO);
        have += static_cast<std::size_t>(count);
    }
    return bytes;
}

FolderLock::FolderLock(const std::filesystem::path& lock_file)
    : descriptor_{::open(lock_file.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, 0644)} {
    if (descriptor_ < 0) {
        if (errno == EROFS || errno == EACCES || errno == EPERM || errno == ENOSPC ||
            errno == ELOOP)
            return; // outcome_ says it
        fail(errno, lock_file);
    }
    if (::flock(descriptor_, LOCK_EX | LOCK_NB) == 0) {
        outcome_ = Outcome::taken;
    } else if (errno == EWOULDBLOCK) {
        outcome_ = Outcome::held_by_another;
    } else if (errno == ENOLCK || errno == ENOSYS || errno == EOPNOTSUPP || errno == EINVAL) {
        outcome_ = Outcome::unguarded;
    } else {
        fail(errno, lock_file);
    }
}

FolderLock::~FolderLock() {
    if (descriptor_ >= 0)
        ::close(descriptor_);
}

} // namespace platewright::ledger
