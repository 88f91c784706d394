#include "ledger/database.hpp"

#include "base/failure.hpp"
#include "wording/say.hpp"

#include <sqlite3.h>

#include <cmath>
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
    case SQLITE_IOERR:
        return say(
            "The disk holding the ledger does not answer as it should, so this was not taken "
            "in. Check the disk or the network folder; everything shown as kept before is "
            "untouched.");
    default:
        return say("The ledger could not do this, and nothing was changed. The log says why.");
    }
}

constexpr int k_busy_ms = 4000; // another reader's checkpoint is over long before that

[[noreturn]] void fail(sqlite3* handle, int code, std::string_view doing) {
    const int extended = handle != nullptr ? sqlite3_extended_errcode(handle) : code;
    const char* reason = handle != nullptr ? sqlite3_errmsg(handle) : sqlite3_errstr(code);
    const std::string detail = fmt::format("{}: {} (SQLite {})", doing, reason, extended);
    constexpr int k_primary = 0xff;
    if ((code & k_primary) == SQLITE_CONSTRAINT) // a caller's mistake, not the world's
        throw std::invalid_argument{detail};
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
        fail(nullptr, code, "opening " + file.string());
    }
    sqlite3_busy_timeout(handle_, k_busy_ms);
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
    fail(handle_, code, doing);
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
        fail(target.handle_, sqlite3_errcode(target.handle_), "copying the database");
    const int stepped = sqlite3_backup_step(backup, -1);
    const int finished = sqlite3_backup_finish(backup);
    if (stepped != SQLITE_DONE)
        fail(nullptr, stepped, "copying the database");
    if (finished != SQLITE_OK)
        fail(nullptr, finished, "copying the database");
}

Statement::Statement(Database& database, const std::string& sql) : database_{database} {
    check(sqlite3_prepare_v2(database_.handle(), sql.c_str(), -1, &handle_, nullptr));
}

Statement::~Statement() { sqlite3_finalize(handle_); }

void Statement::check(int code) {
    if (code != SQLITE_OK) {
        const char* sql = handle_ != nullptr ? sqlite3_sql(handle_) : "preparing a statement";
        database_.fail_with(code, sql);
    }
}

void Statement::rewind() {
    sqlite3_reset(handle_); // repeats the last step's error, which step() has reported already
    sqlite3_clear_bindings(handle_);
    next_parameter_ = 1;
}

bool Statement::step() {
    next_column_ = 0;
    const int code = sqlite3_step(handle_);
    if (code != SQLITE_ROW && code != SQLITE_DONE)
        check(code);
    return code == SQLITE_ROW;
}

void Statement::bind(std::int64_t value) {
    check(sqlite3_bind_int64(handle_, next_parameter_++, value));
}

// SQLite would store a NaN as NULL without a word.
void Statement::bind(double value) {
    if (!std::isfinite(value))
        throw std::invalid_argument{"a value for the ledger must be finite"};
    check(sqlite3_bind_double(handle_, next_parameter_++, value));
}

void Statement::bind(std::string_view value) {
    check(sqlite3_bind_text64(handle_, next_parameter_++, value.empty() ? "" : value.data(),
                              value.size(), SQLITE_TRANSIENT, SQLITE_UTF8));
}

void Statement::bind(const Value& value) {
    if (const auto* integer = std::get_if<std::int64_t>(&value))
        bind(*integer);
    else if (const auto* real = std::get_if<double>(&value))
        bind(*real);
    else if (const auto* text = std::get_if<std::string>(&value))
        bind(std::string_view{*text});
    else
        bind_null();
}

Statement& Statement::bind_each(std::span<const Value> values) {
    rewind();
    for (const Value& value : values)
        bind(value);
    return *this;
}

void Statement::bind_null() { check(sqlite3_bind_null(handle_, next_parameter_++)); }

std::int64_t Statement::integer() { return sqlite3_column_int64(handle_, next_column_++); }

double Statement::real() { return sqlite3_column_double(handle_, next_column_++); }

std::string Statement::text() {
    const int column = next_column_++;
    const unsigned char* data = sqlite3_column_text(handle_, column);
    const int size = sqlite3_column_bytes(handle_, column);
    if (data == nullptr)
        return {};
    return {data, data + size};
}

std::optional<double> Statement::maybe_real() {
    if (sqlite3_column_type(handle_, next_column_) == SQLITE_NULL) {
        ++next_column_;
        return std::nullopt;
    }
    return real();
}

std::optional<std::int64_t> Statement::maybe_integer() {
    if (sqlite3_column_type(handle_, next_column_) == SQLITE_NULL) {
        ++next_column_;
        return std::nullopt;
    }
    return integer();
}

Value Statement::value() {
    switch (sqlite3_column_type(handle_, next_column_)) {
    case SQLITE_INTEGER:
        return integer();
    case SQLITE_FLOAT:
        return real();
    case SQLITE_NULL:
        ++next_column_;
        return {};
    default:
        return text();
    }
}

Transaction::Transaction(Database& database, Kind kind, Watch* watch)
    : database_{database}, watch_{watch} {
    if (kind == Kind::write && database_.file_is_gone())
        throw base::Failure{std::string(
            say("The ledger's folder is no longer where it was, so this was not kept. Bring the "
                "disk or folder back and do it again; everything shown as kept before lies "
                "there."))};
    database_.run(kind == Kind::write ? "BEGIN IMMEDIATE" : "BEGIN");
    open_ = true;
}

void Transaction::commit() {
    if (!open_)
        throw std::invalid_argument{"this transaction has ended already"};
    if (watch_ != nullptr)
        watch_->before_commit();
    database_.run("COMMIT");
    open_ = false;
    if (watch_ != nullptr)
        watch_->after_commit(); // the database may be another one after this
}

Transaction::~Transaction() {
    if (open_) {
        // A failed COMMIT may have rolled back by itself; then this reports an error of no
        // consequence, and a destructor must not throw.
        sqlite3_exec(database_.handle(), "ROLLBACK", nullptr, nullptr, nullptr);
    }
}

} // namespace platewright::ledger
