#include "ledger/tables/database.hpp"

#include "base/failure.hpp"
#include "wording/say.hpp"

#include <sqlite3.h>

#include <array>
#include <cerrno>
#include <ctime>
#include <fmt/format.h>
#include <stdexcept>
#include <string>
#include <utility>

namespace platewright::ledger {
namespace {

using wording::say;

// What the maker reads. The kind of trouble decides the remedy; the detail goes to the log.
std::string_view sentence_for(int primary_code) {
    switch (primary_code) {
    case SQLITE_FULL:
        return say(
            "The disk is full, so the ledger could not take this in. Free some space and do it "
            "again; everything shown as kept before is safe.");
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_AUTH:
        return say(
            "The ledger's folder cannot be written to, so nothing was changed. Allow writing "
            "to it, or copy the ledger to a folder of your own.");
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
        return say("Another program is holding the ledger, so nothing was changed. Close it and do "
                   "this again.");
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
        return say("The ledger's database is damaged or is not one of this program's. Nothing was "
                   "changed; the recordings and the folder 'backups' beside it are untouched.");
    case SQLITE_CANTOPEN:
        return say(
            "The ledger's database could not be opened. Check that the folder is there and may "
            "be read; nothing was changed.");
    case SQLITE_TOOBIG:
    case SQLITE_INTERRUPT:
        return say(
            "The ledger's database holds something that this program never put there, and that "
            "can't be read in a sensible time. Nothing was changed; platewright check says "
            "what it is.");
    case SQLITE_ERROR: // our own questions are right: a table or a column is not there
        return say("The ledger's tables are not as this program makes them, so this could not be "
                   "done; nothing was changed. platewright check says where.");
    case SQLITE_NOMEM:
        return say("There was not enough memory for this, and nothing was changed. Close other "
                   "programs and do it again.");
    case SQLITE_IOERR:
        return say(
            "The disk holding the ledger does not answer as it should, so this was not taken "
            "in. Check the disk or the network folder; everything shown as kept before is "
            "untouched.");
    default:
        return say("The ledger could not do this, and nothing was changed. The log says why.");
    }
}

/// A failing call of the file system, told as what it is: a full disk is not a broken one, and what
/// can't be read is not damaged.
std::string_view sentence_for_io(int extended_code, int error) {
    if (error == ENOSPC || error == EDQUOT || error == EFBIG)
        return sentence_for(SQLITE_FULL);
    if (extended_code == SQLITE_IOERR_READ || extended_code == SQLITE_IOERR_SHORT_READ ||
        extended_code == SQLITE_IOERR_CORRUPTFS)
        return say(
            "The disk holding the ledger could not be read just now, so nothing was changed. "
            "Check the disk, its plug or the network, and do this again before going back to "
            "any older copy.");
    return sentence_for(SQLITE_IOERR);
}

constexpr int k_busy_ms = 4000; // another reader's checkpoint is over long before that

[[noreturn]] void fail_in_database(sqlite3* handle, int code, std::string_view doing) {
    const int extended = handle != nullptr ? sqlite3_extended_errcode(handle) : code;
    const char* reason = handle != nullptr ? sqlite3_errmsg(handle) : sqlite3_errstr(code);
    const std::string detail = fmt::format("{}: {} (SQLite {})", doing, reason, extended);
    constexpr int k_primary = 0xff;
    if ((code & k_primary) == SQLITE_CONSTRAINT) // a caller's mistake, not the world's
        throw std::invalid_argument{detail};
    if ((code & k_primary) == SQLITE_IOERR) {
        const int error = handle != nullptr ? sqlite3_system_errno(handle) : 0;
        throw base::Failure{std::string(sentence_for_io(extended, error)), detail};
    }
    throw base::Failure{std::string(sentence_for(code & k_primary)), detail};
}

// SQLite takes 'immutable' only in a URI, so the path's own reserved characters are escaped.
std::string immutable_uri(const std::filesystem::path& file) {
    constexpr std::string_view k_hex = "0123456789ABCDEF";
    std::string uri = "file:";
    for (const char letter : std::filesystem::absolute(file).string()) {
        if (letter == '%' || letter == '?' || letter == '#') {
            const auto byte = static_cast<unsigned char>(letter);
            uri += '%';
            uri += k_hex[byte >> 4U];
            uri += k_hex[byte & 15U];
        } else {
            uri += letter;
        }
    }
    return uri + "?immutable=1";
}

} // namespace

double thread_seconds() {
    timespec now{};
    ::clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

Database::Database(const std::filesystem::path& file, Access access) {
    int flags = SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_EXRESCODE;
    flags |= access == Access::read_write ? SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE
                                          : SQLITE_OPEN_READONLY;
    std::string name = file.string();
    if (access == Access::immutable) {
        flags |= SQLITE_OPEN_URI;
        name = immutable_uri(file);
    }
    const int code = sqlite3_open_v2(name.c_str(), &handle_, flags, nullptr);
    if (code != SQLITE_OK) {
        sqlite3_close_v2(handle_);
        handle_ = nullptr;
        fail_in_database(nullptr, code, "opening " + file.string());
    }
    sqlite3_busy_timeout(handle_, k_busy_ms);
    distrust();
}

/// SQLite's own advice for files from anywhere (sqlite.org/security.html): nothing that lies in the
/// file may call functions or change what this program does not; and nothing in it is larger than
/// what this program writes.
void Database::distrust() {
    sqlite3_db_config(handle_, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, nullptr);
    sqlite3_db_config(handle_, SQLITE_DBCONFIG_DEFENSIVE, 1, nullptr);
    constexpr std::array<std::pair<int, int>, 9> k_limits{{
        {SQLITE_LIMIT_LENGTH, 1 << 26}, // a session's plan or a bundle's row is a thousandth of it
        {SQLITE_LIMIT_SQL_LENGTH, 1'000'000},
        {SQLITE_LIMIT_COLUMN, 200},
        {SQLITE_LIMIT_EXPR_DEPTH, 100},
        {SQLITE_LIMIT_COMPOUND_SELECT, 50},
        {SQLITE_LIMIT_FUNCTION_ARG, 100},
        {SQLITE_LIMIT_ATTACHED, 0},
        {SQLITE_LIMIT_VARIABLE_NUMBER, 1000},
        {SQLITE_LIMIT_TRIGGER_DEPTH, 20},
    }};
    for (const auto& [limit, value] : k_limits)
        sqlite3_limit(handle_, limit, value);
    constexpr int k_steps_between_looks = 100'000; // some milliseconds
    sqlite3_progress_handler(handle_, k_steps_between_looks, look_at_clock, this);
    // Checks of a page's cells as it is read; fails only where memory does.
    sqlite3_exec(handle_, "PRAGMA cell_size_check = ON", nullptr, nullptr, nullptr);
}

int Database::look_at_clock(void* self) {
    const double until = static_cast<Database*>(self)->may_run_until_s_;
    return until > 0 && thread_seconds() > until ? 1 : 0;
}

bool Database::checkpoint() {
    Statement held_up{*this, "PRAGMA wal_checkpoint(TRUNCATE)"};
    return held_up.step() && held_up.integer() == 0;
}

void Database::leave_disk_alone() {
    sqlite3_db_config(handle_, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, nullptr);
}

// close_v2 waits for statements still alive, so the order of destruction cannot matter.
Database::~Database() { sqlite3_close_v2(handle_); }

void Database::run(const std::string& sql) {
    const int code = sqlite3_exec(handle_, sql.c_str(), nullptr, nullptr, nullptr);
    if (code != SQLITE_OK)
        fail_with(code, sql);
}

void Database::fail_with(int code, std::string_view doing) {
    const int primary = code & 0xff;
    has_failed_ = has_failed_ || primary == SQLITE_IOERR || primary == SQLITE_CANTOPEN ||
                  primary == SQLITE_CORRUPT || primary == SQLITE_NOTADB;
    fail_in_database(handle_, code, doing);
}

std::int64_t Database::last_row_id() const { return sqlite3_last_insert_rowid(handle_); }

std::int64_t Database::changes() const { return sqlite3_changes(handle_); }

bool Database::file_is_gone() const {
    int moved = 0;
    const int code = sqlite3_file_control(handle_, "main", SQLITE_FCNTL_HAS_MOVED, &moved);
    return code == SQLITE_OK && moved != 0;
}

void Database::copy_to(const std::filesystem::path& file) {
    Database target{file, Access::read_write};
    copy_to(target);
}

void Database::copy_to(Database& target) {
    sqlite3_backup* backup = sqlite3_backup_init(target.handle_, "main", handle_, "main");
    if (backup == nullptr)
        fail_in_database(target.handle_, sqlite3_errcode(target.handle_), "copying the database");
    const int stepped = sqlite3_backup_step(backup, -1);
    const int finished = sqlite3_backup_finish(backup);
    if (stepped != SQLITE_DONE)
        fail_in_database(nullptr, stepped, "copying the database");
    if (finished != SQLITE_OK)
        fail_in_database(nullptr, finished, "copying the database");
}

} // namespace platewright::ledger
