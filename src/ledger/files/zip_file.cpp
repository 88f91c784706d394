#include "ledger/files/zip_file.hpp"

#include "base/failure.hpp"
#include "ledger/files/file_safety.hpp"

#include <algorithm>
#include <cstring>
#include <exception>
#include <limits>
#include <optional>
#include <utility>
#include <zip.h>

namespace platewright::ledger {
namespace {

namespace fs = std::filesystem;

constexpr std::uint64_t k_highest_ratio = 100; // our own texts shrink to a tenth
constexpr std::uint64_t k_always_small = 1U << 20U;
constexpr std::uint64_t k_most_entries = 5'000'000;

base::Fault broken(const std::string& detail) {
    return {
        "This is no bundle, or it is damaged or cut short. Fetch it anew from where it was made.",
        detail};
}

// "..", a drive, a root, a backslash: no program of good will writes such a name.
bool points_out(std::string_view name) {
    if (name.empty() || name.front() == '/' || name.find('\\') != std::string_view::npos ||
        name.find(':') != std::string_view::npos)
        return true;
    const std::string path = "/" + std::string{name} + "/";
    return path.find("/../") != std::string::npos;
}

/// A text that is made when libzip asks for it, and let go when it is written.
struct LateText {
    std::function<std::string()> make;
    std::exception_ptr* trouble; // what make() threw; no exception may pass through libzip
    std::string text;
    std::size_t given = 0;
    zip_error_t error{};

    zip_int64_t obey(void* data, zip_uint64_t length, zip_source_cmd_t command) {
        switch (command) {
        case ZIP_SOURCE_OPEN:
            return open();
        case ZIP_SOURCE_READ: {
            const std::size_t count =
                std::min<std::size_t>(length, text.size() - std::min(given, text.size()));
            if (count > 0)
                std::memcpy(data, text.data() + given, count);
            given += count;
            return static_cast<zip_int64_t>(count);
        }
        case ZIP_SOURCE_CLOSE:
            text = {};
            return 0;
        case ZIP_SOURCE_STAT:
            zip_stat_init(static_cast<zip_stat_t*>(data));
            return sizeof(zip_stat_t);
        case ZIP_SOURCE_ERROR:
            return zip_error_to_data(&error, data, length);
        case ZIP_SOURCE_FREE:
            delete this; // libzip owns the source
            return 0;
        case ZIP_SOURCE_SUPPORTS:
            return zip_source_make_command_bitmap(ZIP_SOURCE_OPEN, ZIP_SOURCE_READ,
                                                  ZIP_SOURCE_CLOSE, ZIP_SOURCE_STAT,
                                                  ZIP_SOURCE_ERROR, ZIP_SOURCE_FREE, -1);
        default:
            zip_error_set(&error, ZIP_ER_OPNOTSUPP, 0);
            return -1;
        }
    }

private:
    zip_int64_t open() {
        given = 0;
        try {
            text = make();
            return 0;
        } catch (...) { // handed on by finish()
            *trouble = std::current_exception();
            zip_error_set(&error, ZIP_ER_INTERNAL, 0);
            return -1;
        }
    }
};

zip_int64_t late_text(void* user, void* data, zip_uint64_t length, zip_source_cmd_t command) {
    return static_cast<LateText*>(user)->obey(data, length, command);
}

[[noreturn]] void fail_as_zip(const fs::path& file, const std::string& detail) {
    throw base::Failure{"The bundle “" + file.string() +
                            "” could not be written. Check the folder and the free space; the "
                            "ledger is not touched.",
                        detail};
}

} // namespace

struct ZipWriter::Archive {
    fs::path file, beside;
    zip_t* zip = nullptr;
    std::exception_ptr trouble;
    Progress progress;
    bool stopped = false;

    void add(const std::string& name, zip_source_t* source, zip_int32_t compression) {
        const zip_int64_t index =
            source == nullptr ? -1 : zip_file_add(zip, name.c_str(), source, ZIP_FL_ENC_UTF_8);
        if (index < 0) {
            zip_source_free(source);
            fail_as_zip(file, zip_strerror(zip));
        }
        zip_set_file_compression(zip, static_cast<zip_uint64_t>(index), compression, 0);
    }
};

ZipWriter::ZipWriter(fs::path file) : archive_{std::make_unique<Archive>()} {
    archive_->file = std::move(file);
    archive_->beside = archive_->file;
    archive_->beside += ".part";
    int code = 0;
    archive_->zip = zip_open(archive_->beside.c_str(), ZIP_CREATE | ZIP_TRUNCATE, &code);
    if (archive_->zip == nullptr)
        fail_as_zip(archive_->file, "zip_open: " + std::to_string(code));
}

ZipWriter::~ZipWriter() {
    if (archive_->zip != nullptr)
        zip_discard(archive_->zip);
    std::error_code ignored; // a finished one has been renamed away
    fs::remove(archive_->beside, ignored);
}

void ZipWriter::add_text(const std::string& name, std::function<std::string()> make) {
    auto* text =
        new LateText{std::move(make), &archive_->trouble, {}, 0, {}}; // NOLINT: libzip owns
    zip_error_init(&text->error);
    archive_->add(name, zip_source_function(archive_->zip, late_text, text), ZIP_CM_DEFLATE);
}

void ZipWriter::add_file(const std::string& name, const fs::path& file) {
    archive_->add(name, zip_source_file(archive_->zip, file.c_str(), 0, -1), ZIP_CM_STORE);
}

bool ZipWriter::finish(const Progress& progress) {
    Archive& archive = *archive_;
    archive.progress = progress;
    if (progress) {
        zip_register_progress_callback_with_state(
            archive.zip, 0.01,
            [](zip_t*, double share, void* user) {
                auto& self = *static_cast<Archive*>(user);
                self.stopped = self.stopped || !self.progress(share);
            },
            nullptr, &archive);
        zip_register_cancel_callback_with_state(
            archive.zip,
            [](zip_t*, void* user) { return static_cast<Archive*>(user)->stopped ? 1 : 0; },
            nullptr, &archive);
    }
    const int closed = zip_close(archive.zip);
    if (closed == 0)
        archive.zip = nullptr;
    if (archive.trouble)
        std::rethrow_exception(archive.trouble);
    if (archive.stopped)
        return false;
    if (closed != 0)
        fail_as_zip(archive.file, zip_strerror(archive.zip));
    sync_file(archive.beside);
    rename_durably(archive.beside, archive.file);
    return true;
}

struct ZipReader::Archive {
    zip_t* zip = nullptr;
    explicit Archive(zip_t* opened) : zip{opened} {}
    ~Archive() { zip_discard(zip); }
    Archive(const Archive&) = delete;
    Archive& operator=(const Archive&) = delete;
};

ZipReader::ZipReader(std::unique_ptr<Archive> archive) : archive_{std::move(archive)} {}
ZipReader::~ZipReader() = default;
ZipReader::ZipReader(ZipReader&&) noexcept = default;
ZipReader& ZipReader::operator=(ZipReader&&) noexcept = default;

base::Result<ZipReader> ZipReader::open(const fs::path& file) {
    std::error_code error;
    if (!fs::is_regular_file(file, error))
        return base::Fault{"There is no file “" + file.string() + "”. Nothing was taken in."};
    int code = 0;
    zip_t* zip = zip_open(file.c_str(), ZIP_RDONLY | ZIP_CHECKCONS, &code);
    if (zip == nullptr)
        return broken("zip_open: " + std::to_string(code));
    ZipReader reader{std::make_unique<Archive>(zip)};
    const zip_int64_t count = zip_get_num_entries(zip, 0);
    if (count < 0 || static_cast<std::uint64_t>(count) > k_most_entries)
        return broken("entries: " + std::to_string(count));
    for (zip_int64_t i = 0; i < count; ++i) {
        const char* name = zip_get_name(zip, static_cast<zip_uint64_t>(i), ZIP_FL_ENC_GUESS);
        if (name == nullptr)
            return broken("an entry without a name");
        if (points_out(name))
            return base::Fault{"This bundle holds a name that points out of it, which none made by "
                               "this program does. Don't trust it; nothing was taken in.",
                               name};
        reader.names_.emplace_back(name);
    }
    return reader;
}

bool ZipReader::holds(std::string_view name) const {
    return zip_name_locate(archive_->zip, std::string{name}.c_str(), 0) >= 0;
}

base::Result<std::vector<std::byte>> ZipReader::read(std::string_view name,
                                                     std::size_t most) const {
    const std::string key{name};
    const zip_int64_t index = zip_name_locate(archive_->zip, key.c_str(), 0);
    zip_stat_t stat;
    if (index < 0 || zip_stat_index(archive_->zip, static_cast<zip_uint64_t>(index), 0, &stat) != 0)
        return broken("no entry " + key);
    constexpr zip_uint64_t needed = ZIP_STAT_SIZE | ZIP_STAT_COMP_SIZE;
    if ((stat.valid & needed) != needed || stat.size > most ||
        (stat.size > k_always_small && stat.size / k_highest_ratio > stat.comp_size))
        return base::Fault{"This bundle would unpack to far more than a bundle holds. Don't trust "
                           "it; nothing was taken in.",
                           key};
    zip_file_t* file = zip_fopen_index(archive_->zip, static_cast<zip_uint64_t>(index), 0);
    if (file == nullptr)
        return broken(key + ": " + zip_strerror(archive_->zip));
    // libzip checks the sum when the last byte and the end behind it have been read.
    std::vector<std::byte> bytes(static_cast<std::size_t>(stat.size));
    const zip_int64_t count = zip_fread(file, bytes.data(), stat.size);
    std::byte beyond{};
    const zip_int64_t end = zip_fread(file, &beyond, 1);
    const int closed = zip_fclose(file);
    if (count != static_cast<zip_int64_t>(stat.size) || end != 0 || closed != 0)
        return broken(key + " is not as long as it says, or damaged");
    return bytes;
}

} // namespace platewright::ledger
