#include "ledger/mend/salvage.hpp"

#include "base/failure.hpp"
#include "ledger/bundle/bundle_tables.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

namespace platewright::ledger {
namespace {

/// A table as both databases have it.
struct Table {
    std::string name;
    std::vector<std::string> columns; ///< the key's first column first
    std::string key;                  ///< its first column
    std::string parent;               ///< the table whose id the key's first column is; empty: none
    bool has_id = false;
};

std::vector<std::string> column_names(Database& database, const std::string& table) {
    return database.texts("SELECT name FROM pragma_table_info(?) ORDER BY pk = 0, pk, cid", table);
}

std::vector<Table> tables_of(Database& into) {
    std::vector<Table> tables;
    const auto add = [&](std::string_view name, const std::string& parent) {
        Table table{std::string{name}, column_names(into, std::string{name}), {}, parent, false};
        table.key = table.columns.front();
        table.has_id = table.key == "id";
        if (table.has_id)
            table.parent.clear();
        tables.push_back(std::move(table));
    };
    for (const std::string_view name : k_unbundled_tables)
        add(name, "");
    for (const BundledTable& table : bundled_tables())
        add(table.name, std::string{table.parent});
    return tables;
}

/// Rows of one table on their way.
class Pouring {
public:
    Pouring(Database& from, Database& into, Table table, std::int64_t& rows)
        : from_{from}, table_{std::move(table)}, rows_{rows},
          select_{fmt::format("SELECT {} FROM {} ", fmt::join(table_.columns, ", "), table_.name)},
          insert_{into, insert_sql(table_.name, table_.columns, "INSERT OR IGNORE")}, into_{into} {}

    /// All rows in the order of their key after `last`; false where it breaks off. `last` is then
    /// the id of the last row that came.
    bool all(const std::string& order, std::optional<std::int64_t>& last) {
        try {
            Statement rows{from_,
                           select_ + (last ? fmt::format("WHERE id > {} ", *last) : "") + order};
            while (rows.step())
                last = take(rows);
            return true;
        } catch (const base::Failure&) {
            return false;
        }
    }

    /// The rows whose key begins with this value; false where they can't be read.
    bool one(std::int64_t key) {
        try {
            Statement rows{from_, fmt::format("{}WHERE {} = ?", select_, table_.key), key};
            bool any = false;
            for (; rows.step(); any = true)
                take(rows);
            found_ = any;
            return true;
        } catch (const base::Failure&) {
            found_ = false;
            return false;
        }
    }
    bool found() const { return found_; }

private:
    std::int64_t take(Statement& rows) {
        const std::vector<Value> values = rows.values(table_.columns.size());
        const auto* key = std::get_if<std::int64_t>(&values.front());
        try {
            insert_.bind_each(values).step();
            rows_ += into_.changes();
        } catch (const std::invalid_argument&) {
            // Not a value that this table can hold: damage, and the row is to be had elsewhere.
        }
        return key != nullptr ? *key : 0;
    }

    Database& from_;
    Table table_;
    std::int64_t& rows_;
    std::string select_;
    Statement insert_;
    Database& into_;
    bool found_ = false;
};

std::optional<std::int64_t> greatest(Database& database, const std::string& sql) {
    try {
        return database.first_integer(sql);
    } catch (const base::Failure&) {
        return std::nullopt;
    }
}

/// Past the bad pages of a table with ids: id by id until one can be read again.
void by_ids(Database& from, const Table& table, Pouring& pouring,
            std::optional<std::int64_t> last) {
    constexpr std::int64_t k_farthest =
        50'000; // ids of an inner page's rows; the last id may be damage itself
    const auto end = greatest(from, fmt::format("SELECT max(id) FROM {}", table.name));
    std::int64_t id = last.value_or(0);
    for (std::int64_t since = 0; since < k_farthest && (!end || id < *end); ++since) {
        ++id;
        if (!pouring.one(id) || !pouring.found())
            continue;
        since = 0;
        std::optional<std::int64_t> reached = id;
        if (pouring.all("ORDER BY id", reached))
            return;
        id = std::max(id, *reached);
    }
}

void pour_table(Database& from, Database& into, const Table& table, std::int64_t& rows) {
    Pouring pouring{from, into, table, rows};
    std::optional<std::int64_t> last;
    if (pouring.all(table.has_id ? "ORDER BY id" : "", last))
        return;
    if (table.has_id) {
        by_ids(from, table, pouring, last);
    } else if (!table.parent.empty()) {
        for (const std::int64_t id : into.integers(fmt::format("SELECT id FROM {}", table.parent)))
            pouring.one(id);
    } else { // a few settings, or what recordings and rows say themselves: from the other end too
        last.reset();
        pouring.all(fmt::format("ORDER BY {} DESC", table.key), last);
    }
}

} // namespace

std::int64_t pour_rows(Database& from, Database& into) {
    std::int64_t poured = 0;
    into.run("PRAGMA foreign_keys = OFF");
    Transaction transaction{into};
    for (Table& table : tables_of(into)) {
        try {
            const std::vector<std::string> there = column_names(from, table.name);
            std::erase_if(table.columns, [&there](const std::string& column) {
                return std::ranges::find(there, column) == there.end();
            });
            if (table.columns.empty() || table.columns.front() != table.key)
                continue; // an older ledger did not have it
            pour_table(from, into, table, poured);
        } catch (const base::Failure&) {
            // Not even what it looks like can be read: what it held has to come from elsewhere.
        }
    }
    transaction.commit();
    return poured;
}

std::int64_t drop_orphans(Database& database) {
    std::int64_t dropped = 0;
    Transaction transaction{database};
    for (const char* table : {"tap", "wood_tap"})
        database.execute(
            fmt::format("UPDATE {} SET recording = NULL WHERE recording IS NOT NULL AND "
                        "recording NOT IN (SELECT hash FROM recording)",
                        table));
    const std::vector<TableShape> shapes = table_shapes(database);
    for (const TableShape& shape : shapes) { // parents come first
        if (!shape.parent_column.empty()) {
            database.execute(fmt::format("DELETE FROM {} WHERE {} NOT IN (SELECT id FROM {})",
                                         shape.table.name, shape.parent_column,
                                         shape.table.parent));
            dropped += database.changes();
        }
        for (const TableShape::Column& column : shape.columns)
            if (!column.refers_to.empty())
                database.execute(
                    fmt::format("UPDATE {0} SET {1} = NULL WHERE {1} IS NOT NULL AND {1} NOT IN "
                                "(SELECT id FROM {2})",
                                shape.table.name, column.name, column.refers_to));
    }
    // One whose tap is gone is to be found again by what it says of itself.
    database.run(
        "DELETE FROM recording WHERE hash NOT IN (SELECT recording FROM tap WHERE recording "
        "IS NOT NULL UNION SELECT recording FROM wood_tap WHERE recording IS NOT NULL)");
    transaction.commit();
    return dropped;
}

} // namespace platewright::ledger
