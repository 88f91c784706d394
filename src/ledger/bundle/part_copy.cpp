#include "ledger/bundle/part_copy.hpp"

#include "base/failure.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <fmt/ranges.h>

namespace platewright::ledger {
namespace {

/// A table's rows that belong to `id`, with what belongs to them and is no part of its own.
class PartCopy {
public:
    PartCopy(Database& from, Database& into)
        : from_{from}, into_{into}, shapes_{table_shapes(into)} {}

    std::size_t place_of(std::string_view table) const {
        return static_cast<std::size_t>(
            std::ranges::find_if(
                shapes_, [table](const TableShape& one) { return one.table.name == table; }) -
            shapes_.begin());
    }

    void remove(std::size_t place, const std::string& by, std::int64_t id) {
        const TableShape& shape = shapes_[place];
        if (shape.has_id) {
            std::vector<std::int64_t> ids;
            {
                Statement rows{into_,
                               fmt::format("SELECT id FROM {} WHERE {} = ?", shape.table.name, by)};
                rows.bind_all(id);
                while (rows.step())
                    ids.push_back(rows.integer());
            }
            for (const std::int64_t row : ids)
                each_below(shape, [&](std::size_t below) {
                    remove(below, shapes_[below].parent_column, row);
                });
        }
        into_.execute(fmt::format("DELETE FROM {} WHERE {} = ?", shape.table.name, by), id);
    }

    void copy(std::size_t place, const std::string& by, std::int64_t id) {
        const TableShape& shape = shapes_[place];
        const std::vector<std::string> columns = shape.raw_columns();
        Statement rows{from_,
                       fmt::format("SELECT {}, {} FROM {} WHERE {} = ?", shape.has_id ? "id" : "0",
                                   fmt::join(columns, ", "), shape.table.name, by)};
        Statement insert{
            into_, fmt::format("INSERT INTO {} ({}) VALUES ({})", shape.table.name,
                               fmt::join(columns, ", "),
                               fmt::join(std::vector<std::string>(columns.size(), "?"), ", "))};
        rows.bind_all(id);
        while (rows.step()) {
            const std::int64_t row = rows.integer();
            std::vector<Value> values;
            for (std::size_t i = 0; i < columns.size(); ++i)
                values.push_back(rows.value());
            insert.bind_each(values).step();
            each_below(shape,
                       [&](std::size_t below) { copy(below, shapes_[below].parent_column, row); });
        }
    }

private:
    template <class Visit>
    void each_below(const TableShape& shape, const Visit& visit) {
        for (const std::size_t child : shape.children)
            if (!is_part(shapes_[child].table.name))
                visit(child);
    }

    Database& from_;
    Database& into_;
    std::vector<TableShape> shapes_;
};

} // namespace

void remove_part(Database& database, const PartName& part) {
    PartCopy parts{database, database};
    parts.remove(parts.place_of(part.table), "id", part.id);
}

bool take_part_as_sealed(Database& from, Database& into, const PartName& part) {
    Statement sealed{into, "SELECT sum FROM seal WHERE part = ? AND id = ?"};
    sealed.bind_all(part.table, part.id);
    if (!sealed.step())
        return false;
    const std::int64_t sum = sealed.integer();
    try {
        if (Seals{from}.sum_of(part) != sum)
            return false;
    } catch (const base::Failure&) {
        return false; // a copy of older tables
    }
    into.run("SAVEPOINT part");
    try {
        PartCopy parts{from, into};
        parts.remove(parts.place_of(part.table), "id", part.id);
        parts.copy(parts.place_of(part.table), "id", part.id);
        into.run("RELEASE part");
        return true;
    } catch (const std::exception&) { // what it needs is in the way of something that stays
        into.run("ROLLBACK TO part; RELEASE part");
        return false;
    }
}

} // namespace platewright::ledger
