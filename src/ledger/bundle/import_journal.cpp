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

} // namespace platewright::ledger
