#pragma once
#include <cstdlib>
#include <filesystem>
#include <stdexcept>
#include <string>

namespace platewright::test {

/// A fresh folder for one test, removed with all it holds.
class TemporaryFolder {
public:
    explicit TemporaryFolder(
        const std::filesystem::path& within = std::filesystem::temp_directory_path()) {
        std::string name = (within / "platewright-XXXXXX").string();
        if (::mkdtemp(name.data()) == nullptr)
            throw std::runtime_error{"no temporary folder to be had"};
        path_ = name;
    }
    ~TemporaryFolder() {
        std::error_code error;
        std::filesystem::remove_all(path_, error);
    }
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;

    const std::filesystem::path& path() const { return path_; }

private:
    std::filesystem::path path_;
};

/// Where syncing costs nothing, for tests that sync by the hundred and never cut the power.
inline std::filesystem::path memory_folder() {
    std::error_code error;
    const std::filesystem::path memory = "/dev/shm";
    return std::filesystem::is_directory(memory, error) ? memory
                                                        : std::filesystem::temp_directory_path();
}

} // namespace platewright::test
