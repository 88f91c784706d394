// Statement and Transaction; Database itself is in database.cpp.
#include "base/failure.hpp"
#include "base/utf8.hpp"
#include "ledger/tables/database.hpp"
#include "wording/say.hpp"

#include <sqlite3.h>

#include <cmath>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <stdexcept>
#include <string>

namespace platewright::ledger {
namespace {

using wording::say;

// The longest a question of ours takes at a thousand instruments is under a second
// (docs/ledger-results.md); a check of all there is may take minutes.
constexpr double k_question_s = 10, k_check_s = 1800;
constexpr std::int64_t k_most_rows = 5'000'000;

} // namespace

Statement::Statement(Database& database, const std::string& sql)
    : database_{database}, may_take_s_{sql.starts_with("PRAGMA") ? k_check_s : k_question_s} {
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
    spent_s_ = 0;
    rows_ = 0;
}

bool Statement::step() {
    next_column_ = 0;
    const double begun_s = thread_seconds();
    database_.may_run_until_s_ = begun_s + may_take_s_ - spent_s_;
    const int code = sqlite3_step(handle_);
    database_.may_run_until_s_ = 0;
    spent_s_ += thread_seconds() - begun_s;
    if (code != SQLITE_ROW && code != SQLITE_DONE)
        check(code);
    if (++rows_ > k_most_rows)
        check(SQLITE_TOOBIG);
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
    const bool is_kept = sqlite3_stmt_readonly(handle_) == 0;
    if (is_kept && !base::is_harmless(value, base::Lines::keep))
        throw base::Failure{say(
            "This text holds letters that can't be shown (control characters, or bytes that are no "
            "UTF-8), so it was not kept. Type it anew.")};
    if (value.size() > k_longest_text)
        throw base::Failure{
            say("This text is longer than a million letters, so it was not kept. Shorten it.")};
    check(sqlite3_bind_text64(handle_, next_parameter_++, value.empty() ? "" : value.data(),
                              value.size(), SQLITE_TRANSIENT, SQLITE_UTF8));
}

void Statement::bind(const Value& value) {
    std::visit([this](const auto& held) { bind(held); }, value);
}

Statement& Statement::bind_each(std::span<const Value> values) {
    rewind();
    for (const Value& value : values)
        bind(value);
    return *this;
}

void Statement::bind(std::monostate) { check(sqlite3_bind_null(handle_, next_parameter_++)); }

std::int64_t Statement::integer() { return sqlite3_column_int64(handle_, next_column_++); }

double Statement::real() { return sqlite3_column_double(handle_, next_column_++); }

std::string Statement::text() {
    const int column = next_column_++;
    const unsigned char* data = sqlite3_column_text(handle_, column);
    const int size = sqlite3_column_bytes(handle_, column);
    if (data == nullptr)
        return {};
    auto length = static_cast<std::size_t>(size);
    if (length > k_longest_text) {
        length = k_longest_text;
        while (length > 0 && (data[length] & 0xC0U) == 0x80U) // not within a letter (UTF-8)
            --length;
    }
    return {data, data + length};
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

std::vector<Value> Statement::values(std::size_t count) {
    std::vector<Value> read;
    while (read.size() < count)
        read.push_back(value());
    return read;
}

std::string insert_sql(std::string_view table, std::span<const std::string> columns,
                       std::string_view verb) {
    return fmt::format("{} INTO {} ({}) VALUES ({})", verb, table, fmt::join(columns, ", "),
                       fmt::join(std::vector<std::string_view>(columns.size(), "?"), ", "));
}

Transaction::Transaction(Database& database, Kind kind, Watch* watch)
    : database_{database}, watch_{watch} {
    if (kind == Kind::write && database_.file_is_gone())
        throw base::Failure{
            say("The ledger's folder is no longer where it was, so this was not kept. Bring the "
                "disk or folder back and do it again; everything shown as kept before lies "
                "there.")};
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
