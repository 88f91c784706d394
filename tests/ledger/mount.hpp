#pragma once
#include "support/temporary_folder.hpp"

#include <filesystem>
#include <string>
#include <sys/mount.h>

namespace platewright::test {

/// A small file system of its own in memory, where the machine allows mounting one (as root
/// mostly).
class SmallDisk {
public:
    explicit SmallDisk(int kilobytes) {
        const std::string size = "size=" + std::to_string(kilobytes) + "k";
        mounted_ = ::mount("none", folder_.path().c_str(), "tmpfs", 0, size.c_str()) == 0;
    }
    ~SmallDisk() {
        if (mounted_)
            ::umount2(folder_.path().c_str(), MNT_DETACH);
    }
    SmallDisk(const SmallDisk&) = delete;
    SmallDisk& operator=(const SmallDisk&) = delete;

    bool mounted() const { return mounted_; }
    const std::filesystem::path& path() const { return folder_.path(); }
    bool make_read_only(bool read_only = true) const {
        return ::mount("none", folder_.path().c_str(), "tmpfs",
                       static_cast<unsigned long>(MS_REMOUNT) |
                           (read_only ? static_cast<unsigned long>(MS_RDONLY) : 0UL),
                       "") == 0;
    }

private:
    TemporaryFolder folder_;
    bool mounted_ = false;
};

} // namespace platewright::test
