#pragma once
/// What one bundle brought into a ledger, so that it can be taken out again.

#include "ledger/bundle/bundle_tables.hpp"
#include "ledger/tables/database.hpp"

#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <string_view>
#include <utility>

namespace platewright::ledger {

/// Where a journal is kept: the key of a setting is this, and the moment in 20 digits.
inline constexpr std::string_view k_import_key = "import.";

/// Kept as one text in the table of settings: rows that came under something that was here before
/// (what belongs to them came with them), columns whose word was replaced, and trees that were, as
/// they stood. Threads: one.
class ImportJournal {
public:
    /// A row that came in below `parent` of `parent_table` (0: below nothing).
    void added(std::string_view table, std::int64_t id, std::string_view parent_table,
               std::int64_t parent);
    void changed(std::string_view table, std::int64_t id, std::string_view column,
                 const Value& before, const Value& after);
    /// `before` stood below `parent`; what the bundle says instead comes in as added.
    void replaced(std::string_view table, std::int64_t parent, nlohmann::ordered_json before);

    bool empty() const { return added_.empty() && changed_.empty() && replaced_.empty(); }
    std::string text(const std::string& file) const;

private:
    using Json = nlohmann::ordered_json;
    Json added_ = Json::array(), changed_ = Json::array(), replaced_ = Json::array();
    std::set<std::pair<std::string, std::int64_t>> new_; // rows whose own rows come with them
};

} // namespace platewright::ledger
