#pragma once
/// Zip archives: written entry by entry, read with distrust. libzip's header stays in zip_file.cpp.

#include "base/result.hpp"

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace platewright::ledger {

/// Called with the share done, 0..1; stops the work by returning false.
using Progress = std::function<bool(double)>;

/// An archive to be written. Nothing is under `file` before finish() has returned, and what was
/// there before stays until then.
/// Fails: base::Failure (disk full, folder gone). Threads: one.
class ZipWriter {
public:
    explicit ZipWriter(std::filesystem::path file);
    ~ZipWriter();
    ZipWriter(const ZipWriter&) = delete;
    ZipWriter& operator=(const ZipWriter&) = delete;
    ZipWriter(ZipWriter&&) = delete;
    ZipWriter& operator=(ZipWriter&&) = delete;

    /// Deflated. `make` is called while finish() runs, so that a long text is in memory only while
    /// it is written; what it throws, finish() throws.
    void add_text(const std::string& name, std::function<std::string()> make);
    /// A file as it is, not compressed; read while finish() runs.
    void add_file(const std::string& name, const std::filesystem::path& file);

    /// Writes and syncs the archive and puts it in its place. False: stopped by `progress`, and
    /// nothing was written.
    bool finish(const Progress& progress);

private:
    struct Archive;
    std::unique_ptr<Archive> archive_;
};

/// An archive from anywhere. Entries are found by name and never written under their name.
/// Threads: one.
class ZipReader {
public:
    /// Fault: no zip archive, cut short, or one with a name that points out of a folder.
    static base::Result<ZipReader> open(const std::filesystem::path& file);
    ~ZipReader();
    ZipReader(ZipReader&&) noexcept;
    ZipReader& operator=(ZipReader&&) noexcept;

    /// Names of all entries, as they stand in the archive.
    const std::vector<std::string>& names() const { return names_; }
    bool holds(std::string_view name) const;
    /// One entry whole. Fault: not there, larger than `most` bytes or unpacked to a hundred times
    /// its size and more, damaged. Costs no more memory than `most`.
    base::Result<std::vector<std::byte>> read(std::string_view name, std::size_t most) const;

private:
    struct Archive;
    explicit ZipReader(std::unique_ptr<Archive> archive);
    std::unique_ptr<Archive> archive_;
    std::vector<std::string> names_;
};

} // namespace platewright::ledger
