#include "ledger/bundle/import_journal.hpp"

#include <fmt/format.h>

namespace platewright::ledger {

void ImportJournal::added(std::string_view table, std::int64_t id, std::string_view parent_table,
                          std::int64_t parent) {
    new_.emplace(table, id);
    if (parent == 0 || !new_.contains({std::string{parent_table}, parent}))
        added_.push_back({table, id});
}

void ImportJournal::changed(std::string_view table, std::int64_t id, std::string_view column,
                            const Value& before, const Value& after) {
    changed_.push_back({table, id, column, as_json(before), as_json(after)});
}

void ImportJournal::replaced(std::string_view table, std::int64_t parent, Json before) {
    replaced_.push_back({table, parent, std::move(before)});
}

std::string ImportJournal::text(const std::string& file) const {
    return Json{{"file", file}, {"added", added_}, {"changed", changed_}, {"replaced", replaced_}}
        .dump(-1, ' ', false, Json::error_handler_t::replace);
}

void remove_tree(Database& database, const std::vector<TableShape>& shapes, const TableShape& shape,
                 std::string_view by, std::int64_t value) {
    if (shape.has_id) {
        std::vector<std::int64_t> ids;
        Statement rows{database,
                       fmt::format("SELECT id FROM {} WHERE {} = ?", shape.table.name, by)};
        rows.bind_all(value);
        while (rows.step())
            ids.push_back(rows.integer());
        for (const std::int64_t id : ids)
            for (const std::size_t child : shape.children)
                remove_tree(database, shapes, shapes[child], shapes[child].parent_column, id);
    }
    database.execute(fmt::format("DELETE FROM {} WHERE {} = ?", shape.table.name, by), value);
}

} // namespace platewright::ledger
