#include "ledger/bundle/part_copy.hpp"

#include "base/failure.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace platewright::ledger {
namespace {

/// A table's rows that belong to `id`, with what belongs to them and is no part of its own.
void copy_rows(Database& from, Database& into, const std::vector<TableShape>& shapes,
               std::string_view table, std::string_view by, std::int64_t id) {
    const TableShape& shape = shapes[place_of(shapes, table)];
    const std::vector<std::string> columns = shape.raw_columns();
    Statement rows{from,
                   fmt::format("SELECT {}, {} FROM {} WHERE {} = ?", shape.has_id ? "id" : "0",
                               fmt::join(columns, ", "), table, by),
                   id};
    Statement insert{into, insert_sql(table, columns)};
    while (rows.step()) {
        const std::int64_t row = rows.integer();
        insert.bind_each(rows.values(columns.size())).step();
        for (const std::size_t child : shape.children)
            if (const TableShape& below = shapes[child]; !is_part(below.table.name))
                copy_rows(from, into, shapes, below.table.name, below.parent_column, row);
    }
}

} // namespace

void remove_part(Database& database, const PartName& part) {
    remove_tree(database, table_shapes(database), part.table, "id", part.id, is_part);
}

bool take_part_as_sealed(Database& from, Database& into, const PartName& part) {
    const auto sum =
        into.first_integer("SELECT sum FROM seal WHERE part = ? AND id = ?", part.table, part.id);
    try {
        if (!sum || Seals{from}.sum_of(part) != sum)
            return false;
    } catch (const base::Failure&) {
        return false; // a copy of older tables
    }
    into.run("SAVEPOINT part");
    try {
        remove_part(into, part);
        copy_rows(from, into, table_shapes(into), part.table, "id", part.id);
        into.run("RELEASE part");
        return true;
    } catch (const std::exception&) { // what it needs is in the way of something that stays
        into.run("ROLLBACK TO part; RELEASE part");
        return false;
    }
}

} // namespace platewright::ledger
