#pragma once
/// SQLite in four small owners: Database, Statement, Transaction, and a Row read left to right.
/// SQLite's own header stays inside database.cpp; nothing else in the program knows it.

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

struct sqlite3;
struct sqlite3_stmt;

namespace platewright::ledger {

inline constexpr const char* k_in_memory = ":memory:";

/// Processor time of the calling thread, in seconds.
double thread_seconds();

/// One open SQLite file, which is trusted with nothing: see Database::distrust.
/// Fails: base::Failure with a sentence for the maker when the file cannot be opened or is no
/// database. Threads: one thread at a time; open a second Database for a second thread.
class Database {
public:
    enum class Access {
        read_write, ///< creates the file when it is missing
        read_only,
        immutable, ///< on media that cannot be written at all: no lock is taken
    };

    /// k_in_memory as the file: a database of its own that lives as long as the object.
    Database(const std::filesystem::path& file, Access access);
    ~Database();
    Database(const Database&) = delete;
    Database& operator=(const Database&) = delete;
    Database(Database&&) = delete;
    Database& operator=(Database&&) = delete;

    /// Runs one or more fixed statements that bind and return nothing.
    void run(const std::string& sql);

    /// Runs one statement to its end with the values bound in order; returns the last row's id.
    template <class... Values>
    std::int64_t execute(const std::string& sql, const Values&... values);

    /// The first column of the first row that a query gives; nothing where it gives none, or NULL.
    template <class... Values>
    std::optional<std::string> first_text(const std::string& sql, const Values&... values);
    template <class... Values>
    std::optional<std::int64_t> first_integer(const std::string& sql, const Values&... values);

    /// The first column of all rows, read before anything else is done.
    template <class... Values>
    std::vector<std::string> texts(const std::string& sql, const Values&... values);
    template <class... Values>
    std::vector<std::int64_t> integers(const std::string& sql, const Values&... values);

    [[nodiscard]] std::int64_t last_row_id() const;

    /// Rows touched by the last execute().
    [[nodiscard]] std::int64_t changes() const;

    /// The database's file is no longer under the name it was opened by: folder moved, deleted,
    /// or its disk gone. Writing on would go nowhere.
    [[nodiscard]] bool file_is_gone() const;

    /// The file or its disk has failed since it was opened; opening anew may help.
    [[nodiscard]] bool has_failed() const { return has_failed_; }

    /// Brings all that stands in the journal into the file itself; false where a reader holds it
    /// up.
    bool checkpoint();

    /// From now on closing changes nothing on the disk: the journal is neither folded in nor
    /// removed. For a file that is no longer the one the journal belongs to.
    void leave_disk_alone();

    /// Copies the whole database, consistent at one moment, into a new file or another database.
    void copy_to(const std::filesystem::path& file);
    void copy_to(Database& target);

    [[nodiscard]] sqlite3* handle() const { return handle_; }

private:
    friend class Statement;
    [[noreturn]] void fail_with(int code, std::string_view doing);
    void distrust();
    static int look_at_clock(void* self);

    sqlite3* handle_ = nullptr;
    bool has_failed_ = false;
    double may_run_until_s_ = 0; ///< of this thread's time; 0: no limit
};

/// Letters (bytes) of a text: what is longer is refused when written and cut when read.
inline constexpr std::size_t k_longest_text = 1U << 20U;

/// A column's value where the column is not known beforehand: nothing, INTEGER, REAL or TEXT.
using Value = std::variant<std::monostate, std::int64_t, double, std::string>;

/// One prepared statement: bind values in order, then step through its rows.
/// Text and blob columns are copied out, so a row's values outlive the step; of a text longer than
/// k_longest_text the beginning.
/// Fails: base::Failure also where a statement runs for longer, or gives more rows, than any of
/// this program's own tables could make it. Threads: as its Database. The Database must outlive it.
class Statement {
public:
    Statement(Database& database, const std::string& sql);
    /// With its values bound in order.
    template <class... Values>
    requires(sizeof...(Values) > 0)
        Statement(Database& database, const std::string& sql, const Values&... values)
        : Statement(database, sql) {
        bind_all(values...);
    }
    ~Statement();
    Statement(const Statement&) = delete;
    Statement& operator=(const Statement&) = delete;
    Statement(Statement&&) = delete;
    Statement& operator=(Statement&&) = delete;

    template <class... Values>
    Statement& bind_all(const Values&... values) {
        rewind();
        (bind(values), ...);
        return *this;
    }

    /// The same with as many values as there are.
    Statement& bind_each(std::span<const Value> values);

    /// True while there is a row to read.
    bool step();

    // Reading a row: each call takes the next column, left to right.
    std::int64_t integer();
    double real();
    std::string text();
    std::optional<double> maybe_real();
    std::optional<std::int64_t> maybe_integer();
    Value value();
    std::vector<Value> values(std::size_t count);
    bool truth() { return integer() != 0; }

private:
    void rewind();
    void bind(std::int64_t value);
    void bind(int value) { bind(static_cast<std::int64_t>(value)); }
    void bind(bool value) { bind(static_cast<std::int64_t>(value)); }
    void bind(double value);
    void bind(std::string_view value);
    void bind(const std::string& value) { bind(std::string_view{value}); }
    void bind(const char* value) { bind(std::string_view{value}); }
    void bind(std::monostate);
    template <class Value>
    void bind(const std::optional<Value>& value) {
        if (value) {
            bind(*value);
        } else {
            bind(std::monostate{});
        }
    }
    void bind(const Value& value);
    void check(int code);

    Database& database_;
    sqlite3_stmt* handle_ = nullptr;
    int next_parameter_ = 1;
    int next_column_ = 0;
    double spent_s_ = 0, may_take_s_ = 0;
    std::int64_t rows_ = 0;
};

/// "INSERT INTO table (a, b) VALUES (?, ?)"
std::string insert_sql(std::string_view table, std::span<const std::string> columns,
                       std::string_view verb = "INSERT");

/// A transaction; rolls back on destruction unless committed, and never throws there.
/// A write transaction takes the write lock at once, so that it fails at its beginning rather than
/// half way. A read transaction sees one moment of the database throughout, and is just left.
/// Threads: as its Database.
class Transaction {
public:
    enum class Kind { read, write };

    /// Told of a write transaction's end. What before_commit() throws undoes the transaction; what
    /// after_commit() throws says that it is not safely kept after all.
    class Watch {
    public:
        virtual ~Watch() = default;
        virtual void before_commit() = 0;
        virtual void after_commit() = 0;
    };

    explicit Transaction(Database& database, Kind kind = Kind::write, Watch* watch = nullptr);
    ~Transaction();
    Transaction(const Transaction&) = delete;
    Transaction& operator=(const Transaction&) = delete;
    Transaction(Transaction&&) = delete;
    Transaction& operator=(Transaction&&) = delete;

    /// After this returns the changes are on disk (synchronous=FULL).
    void commit();

private:
    Database& database_;
    Watch* watch_;
    bool open_ = false;
};

template <class... Values>
std::int64_t Database::execute(const std::string& sql, const Values&... values) {
    Statement statement{*this, sql, values...};
    while (statement.step()) {
    }
    return last_row_id();
}

template <class... Values>
std::optional<std::string> Database::first_text(const std::string& sql, const Values&... values) {
    Statement row{*this, sql, values...};
    if (!row.step())
        return std::nullopt;
    Value first = row.value();
    auto* text = std::get_if<std::string>(&first);
    return text == nullptr ? std::nullopt : std::optional{std::move(*text)};
}

template <class... Values>
std::optional<std::int64_t> Database::first_integer(const std::string& sql,
                                                    const Values&... values) {
    Statement row{*this, sql, values...};
    return row.step() ? row.maybe_integer() : std::nullopt;
}

template <class... Values>
std::vector<std::string> Database::texts(const std::string& sql, const Values&... values) {
    Statement rows{*this, sql, values...};
    std::vector<std::string> found;
    while (rows.step())
        found.push_back(rows.text());
    return found;
}

template <class... Values>
std::vector<std::int64_t> Database::integers(const std::string& sql, const Values&... values) {
    Statement rows{*this, sql, values...};
    std::vector<std::int64_t> found;
    while (rows.step())
        found.push_back(rows.integer());
    return found;
}

} // namespace platewright::ledger
