#include "ledger/store.hpp"

#include "base/failure.hpp"
#include "ledger/check.hpp"
#include "ledger/schema.hpp"
#include "ledger/store_impl.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <iterator>
#include <string_view>
#include <utility>

namespace platewright::ledger {
namespace {

using wording::say;

namespace fs = std::filesystem;

constexpr std::string_view k_database_name = "ledger.sqlite";
constexpr std::string_view k_lock_name = "ledger.lock";
// What a ledger that died while it was being made may have left behind.
constexpr std::array<std::string_view, 6> k_own_names{k_database_name,     k_lock_name,
                                                      "ledger.sqlite-wal", "ledger.sqlite-shm",
                                                      "recordings",        "backups"};

bool may_become_a_ledger(const fs::path& folder) {
    return std::ranges::all_of(fs::directory_iterator{folder}, [](const auto& entry) {
        return std::ranges::find(k_own_names, entry.path().filename()) != k_own_names.end();
    });
}

[[noreturn]] void fail_no_ledger(const fs::path& folder) {
    throw base::Failure{"There is no ledger in " + folder.string() +
                        ". Choose the folder of a ledger, or a new one; nothing was changed."};
}

// WAL needs memory shared between programs, which some network folders lack; SQLite then keeps its
// rollback journal, whose last folder entry only EXTRA syncs.
void make_durable(Database& database) {
    Statement journal{database, "PRAGMA journal_mode = WAL"};
    const bool wal = journal.step() && journal.text() == "wal";
    database.run(wal ? "PRAGMA synchronous = FULL" : "PRAGMA synchronous = EXTRA");
}

// By which a ledger is known again after its disk was away.
constexpr const char* k_uid_key = "ledger.uid";

std::string uid_of(Database& database) {
    Statement row{database, "SELECT value FROM setting WHERE key = ?"};
    row.bind_all(k_uid_key);
    return row.step() ? row.text() : std::string{};
}

// Recordings that were being written when a program died; none of them was acknowledged.
void clear_staging(const fs::path& staging) {
    std::error_code error; // a leftover that stays does no harm
    for (const auto& entry : fs::directory_iterator{staging, error})
        fs::remove(entry.path(), error);
}

} // namespace

Store::Impl::Impl(fs::path where, Access access) : folder{std::move(where)} {
    std::error_code error;
    if (fs::exists(folder, error) && !fs::is_directory(folder, error))
        fail_no_ledger(folder);
    claim(access);
    if (why_read_only.empty())
        open_for_writing();
    else
        open_for_reading();
}

void Store::Impl::claim(Access access) {
    if (access == Access::read_only) {
        why_read_only = say("it was opened for reading only");
        return;
    }
    std::error_code error;
    if (!fs::exists(folder / k_database_name, error)) {
        if (holds_recordings(folder))
            throw base::Failure{std::string{say("The ledger's database is gone, but recordings lie "
                                                "in its folder, so no empty ledger is begun "
                                                "there. Run platewright check --mend, which brings "
                                                "back what its copies and the recordings "
                                                "hold; nothing was changed.")}};
        if (fs::exists(folder, error) && !may_become_a_ledger(folder))
            throw base::Failure{"The folder " + folder.string() +
                                " holds other things and no ledger. Choose an empty or a new "
                                "folder; nothing was changed."};
        make_folder_durably(folder);
    }
    lock = std::make_unique<FolderLock>(folder / k_lock_name);
    if (lock->outcome() == FolderLock::Outcome::held_by_another)
        why_read_only = say("another program has it open");
    else if (lock->outcome() == FolderLock::Outcome::cannot_be_written)
        why_read_only = say("its folder cannot be written to");
}

void Store::Impl::open_for_writing() {
    make_folder_durably(staging());
    clear_staging(staging());
    witness.reset();
    database = std::make_unique<Database>(folder / k_database_name, Database::Access::read_write);
    schema_version(*database); // refuses a stranger's or a newer database before touching it
    make_durable(*database);
    database->run("PRAGMA foreign_keys = ON; PRAGMA trusted_schema = OFF");
    migrate(*database, folder / "backups");
    witness.emplace(*database, folder);
    if (uid_of(*database).empty())
        database->execute("INSERT INTO setting VALUES (?, lower(hex(randomblob(16))))", k_uid_key);
    remember_file();
}

void Store::Impl::open_for_reading() {
    witness.reset();
    const fs::path file = folder / k_database_name;
    std::error_code error;
    if (!fs::exists(file, error))
        fail_no_ledger(folder);
    try {
        database = std::make_unique<Database>(file, Database::Access::read_only);
        schema_version(*database);
    } catch (const base::Failure&) {
        // A WAL database on media that cannot be written has nowhere to put its shared memory; when
        // its journal is folded in (gone or empty) it can be read as it lies.
        const auto journal = fs::file_size(folder / "ledger.sqlite-wal", error);
        if (!error && journal > 0)
            throw;
        database = std::make_unique<Database>(file, Database::Access::immutable);
    }
    const std::int64_t version = schema_version(*database);
    if (version == 0)
        fail_no_ledger(folder);
    if (version < std::ssize(schema_steps())) {
        // An older ledger that may not be touched is read from a copy brought up to date in memory.
        auto copy = std::make_unique<Database>(k_in_memory, Database::Access::read_write);
        database->copy_to(*copy);
        migrate(*copy, {});
        database = std::move(copy);
    }
}

void Store::Impl::remember_file() {
    file_ = identity_of(folder / k_database_name);
    uid_ = uid_of(*database);
}

void Store::Impl::come_back() {
    const auto there = identity_of(folder / k_database_name);
    if (file_ && there && (there != file_ || database->has_failed())) {
        Database probe{folder / k_database_name, Database::Access::read_only};
        if (schema_version(probe) < 1 || uid_of(probe) != uid_)
            throw base::Failure{std::string{
                say("Another ledger lies where this one was, so nothing was kept. Bring the "
                    "disk or folder back, or start the program anew.")}};
        auto old = std::move(database);
        lock.reset();
        try {
            claim(Access::read_write);
            why_read_only.empty() ? open_for_writing() : open_for_reading();
        } catch (...) { // all as before, and tried again at the next change
            database = std::move(old);
            throw;
        }
    }
}

Transaction Store::Impl::change() {
    come_back();
    if (!why_read_only.empty())
        throw base::Failure{
            say("The ledger can only be read: {}. This was not kept.", why_read_only)};
    if (!witness) // an opening anew that failed took it
        witness.emplace(*database, folder);
    return Transaction{*database, Transaction::Kind::write, this};
}

void Store::Impl::before_commit() { witness->before_commit(); }
void Store::Impl::after_commit() { witness->after_commit(); }

fs::path Store::Impl::recording_file(const std::string& hash) const {
    return folder / "recordings" / hash.substr(0, 2) / (hash + ".flac");
}

Store::Store(const fs::path& folder, Access access)
    : impl_{std::make_unique<Impl>(folder, access)} {}
Store::~Store() = default;
Store::Store(Store&&) noexcept = default;
Store& Store::operator=(Store&&) noexcept = default;

bool Store::read_only() const { return !impl_->why_read_only.empty(); }
const std::string& Store::why_read_only() const { return impl_->why_read_only; }
const fs::path& Store::folder() const { return impl_->folder; }

fs::path default_folder() {
    const auto value = [](const char* name) -> std::string_view {
        const char* text = std::getenv(name); // NOLINT(concurrency-mt-unsafe): nothing here sets it
        return text != nullptr ? text : "";
    };
    if (const auto own = value("PLATEWRIGHT_LEDGER"); !own.empty())
        return own;
    if (const auto data = value("XDG_DATA_HOME"); !data.empty())
        return fs::path{data} / "platewright";
    return fs::path{value("HOME")} / ".local" / "share" / "platewright";
}

} // namespace platewright::ledger
