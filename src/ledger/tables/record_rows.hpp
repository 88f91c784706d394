#pragma once
#include "base/clock.hpp"
#include "base/failure.hpp"
#include "ledger/columns.hpp"
#include "ledger/tables/database.hpp"
#include "ledger/tables/words.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <tuple>
#include <type_traits>
#include <utility>
#include <vector>

namespace platewright::ledger {

// Rows of a table as the records they stand for, and back, by the columns of columns.hpp alone.

/// "s.id, s.plate, s.begun_ms": what read_row() reads; `alias` is the table's in the query.
template <class Record>
std::string columns_of(std::string_view alias) {
    std::string list;
    const auto add = [&](std::string_view name) {
        list += list.empty() ? "" : ", ";
        list += std::string(alias) + "." + std::string(name);
    };
    if constexpr (Numbered<Record>)
        add("id");
    for_each_column<Record>([&](const auto& column) { add(column.name); });
    return list;
}

/// "SELECT t.id, … FROM session t": all columns of one table, called t in what follows.
template <class Record>
std::string select_all() {
    return "SELECT " + columns_of<Record>("t") + " FROM " + std::string(TableOf<Record>::name) +
           " t ";
}

inline void read_field(Statement& row, double& field) { field = row.real(); }
inline void read_field(Statement& row, std::optional<double>& field) { field = row.maybe_real(); }
inline void read_field(Statement& row, std::string& field) { field = row.text(); }
inline void read_field(Statement& row, std::int64_t& field) {
    field = row.maybe_integer().value_or(0);
}
inline void read_field(Statement& row, int& field) { field = static_cast<int>(row.integer()); }
inline void read_field(Statement& row, bool& field) { field = row.truth(); }
inline void read_field(Statement& row, base::Timestamp& field) { field = {row.integer()}; }
template <class Word>
requires std::is_enum_v<Word>
void read_field(Statement& row, Word& field) { field = word_read<Word>(row.text()); }

/// The record that a row's next columns stand for, which are columns_of<Record>.
/// Fails: UnknownWord where one holds a word that cannot be.
template <class Record>
Record read_row(Statement& row) {
    Record record;
    if constexpr (Numbered<Record>)
        record.id = row.integer();
    for_each_column<Record>([&](const auto& column) { read_field(row, column.of(record)); });
    return record;
}

/// All rows of a query as records; those are left out that hold a word this version does not know.
template <class Record>
std::vector<Record> read_rows(Statement& rows) {
    std::vector<Record> records;
    while (rows.step())
        if (auto record = usable([&] { return read_row<Record>(rows); }))
            records.push_back(*std::move(record));
    return records;
}

/// The records of a table for which `where` holds, which calls it t.
template <class Record, class... Values>
std::vector<Record> read_list(Database& database, const std::string& where,
                              const Values&... values) {
    Statement rows{database, select_all<Record>() + where, values...};
    return read_rows<Record>(rows);
}

/// The first of them.
template <class Record, class... Values>
std::optional<Record> read_one(Database& database, const std::string& where,
                               const Values&... values) {
    std::vector<Record> found = read_list<Record>(database, where, values...);
    return found.empty() ? std::nullopt : std::optional{std::move(found.front())};
}

/// A field as its column holds it.
template <class Field>
auto column_value(const Field& field, Role role) {
    if constexpr (std::is_same_v<Field, base::Timestamp>)
        return field.ms_since_epoch;
    else if constexpr (std::is_enum_v<Field>)
        return to_word(field);
    else if constexpr (std::is_same_v<Field, std::int64_t> || std::is_same_v<Field, std::string>)
        return role == Role::link && field == Field{} ? std::nullopt : std::optional{field};
    else
        return field;
}

/// A column of a row that is no field of its record: the row it belongs to, its place in a list.
template <class Field>
struct Beside {
    std::string_view name;
    Field value;
};
template <class Field>
Beside(std::string_view, Field) -> Beside<Field>;

/// Adds a row with what stands beside the record; gives its id.
template <class Record, class... Fields>
Id insert_row(Database& database, const Record& record, const Beside<Fields>&... beside) {
    return std::apply(
        [&](const auto&... column) {
            const std::vector<std::string> names{std::string(beside.name)...,
                                                 std::string(column.name)...};
            return database.execute(insert_sql(TableOf<Record>::name, names), beside.value...,
                                    column_value(column.of(record), column.role)...);
        },
        TableOf<Record>::columns);
}

/// Rows of a list, each with its place in it, that belong to the row `owner` of another table.
template <class Records>
void insert_list(Database& database, const Records& records, std::string_view owner_column,
                 Id owner) {
    std::int64_t place = 0;
    for (const auto& record : records)
        insert_row(database, record, Beside{owner_column, owner}, Beside{"place", place++});
}

/// The same where the column's type is not known before.
template <class Field>
Value as_value(const Field& value) {
    if constexpr (std::is_same_v<Field, bool> || std::is_same_v<Field, int>)
        return static_cast<std::int64_t>(value);
    else if constexpr (std::is_same_v<Field, std::string_view>)
        return std::string(value);
    else
        return value;
}
template <class Field>
Value as_value(const std::optional<Field>& value) {
    return value ? as_value(*value) : Value{};
}

/// Changes a row to what the record says, but for what is said only once. Where no row has its id
/// nothing is changed (Database::changes).
template <Numbered Record>
void update_row(Database& database, const Record& record) {
    std::string sets;
    std::vector<Value> values;
    for_each_column<Record>([&](const auto& column) {
        if (column.role == Role::made)
            return;
        sets += (sets.empty() ? "" : ", ") + std::string(column.name) + " = ?";
        values.push_back(as_value(column_value(column.of(record), column.role)));
    });
    values.emplace_back(record.id);
    Statement update{database, "UPDATE " + std::string(TableOf<Record>::name) + " SET " + sets +
                                   " WHERE id = ?"};
    update.bind_each(values).step();
}

} // namespace platewright::ledger
