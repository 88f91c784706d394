#pragma once
/// Takes a bundle's tree of rows into a database: what is there already is recognised, what is not
/// comes in, what differs is said.

#include "ledger/bundle/bundle.hpp"
#include "ledger/bundle/bundle_tables.hpp"
#include "ledger/bundle/bundle_values.hpp"
#include "ledger/bundle/import_journal.hpp"

#include <functional>
#include <nlohmann/json_fwd.hpp>

namespace platewright::ledger {

/// One per bundle, used within one transaction, which the caller owns.
/// Throws BadBundle, or std::invalid_argument where a table's own conditions are not met: the
/// transaction is then to be rolled back. Cost: some 20 µs a row. Threads: as its Database.
class TreeMerge {
public:
    /// `bring` makes the recording of a hash be in the ledger, its row too; false: it is nowhere.
    TreeMerge(Database& database, const TakeOptions& options, TakeReport& report,
              std::function<bool(const std::string&)> bring);

    /// Merges one row without parent, and all that belongs to it.
    void take(std::string_view table, const nlohmann::ordered_json& row);
    /// Plates that came in or of which something was changed: to be read back before all is kept.
    const std::vector<std::int64_t>& plates() const { return plates_; }
    /// Taps that came in or were changed, once for each change.
    const std::vector<std::int64_t>& taps() const { return taps_; }
    const std::vector<std::int64_t>& wood_taps() const { return wood_taps_; }
    const ImportJournal& journal() const { return journal_; }
    /// Puts a tree that was replaced below its parent again.
    void put_back(std::string_view table, std::int64_t parent, const nlohmann::ordered_json& tree);

private:
    using Json = nlohmann::ordered_json;
    struct Found {
        std::int64_t id = 0; // 0: not here
        bool binned = false;
    };
    struct Row { // of the bundle, with the id here of what it belongs to
        const TableShape& shape;
        const Json& json;
        std::int64_t parent;
    };

    void merge(const Row& row);
    /// Calls `visit` with each row of the bundle that belongs to `row`, whose id here is `id`.
    template <class Visit>
    void each_child(const Row& row, std::int64_t id, const Visit& visit);
    Found find(const Row& row);
    Found find_within(const Row& row, std::string_view columns);
    std::int64_t insert(const Row& row);
    void insert_tree(const Row& row);
    void compare(const Row& row, std::int64_t id);
    void compare_column(const Row& row, const TableShape::Column& column, std::int64_t id,
                        const Value& here);
    void compare_whole(const Row& row, std::int64_t id);
    Value kept_value(const Row& row, const TableShape::Column& column);
    void touch(const Row& row, std::int64_t id);
    void differ(const std::string& what, const std::string& here, const std::string& there);
    TakeReport::Kind& tally(const TableShape& shape);

    Database& database_;
    TakeOptions options_;
    TakeReport& report_;
    std::function<bool(const std::string&)> bring_;
    TreeReader reader_;
    ImportJournal journal_;
    std::vector<std::string> path_; // where in the tree, for people
    std::vector<std::int64_t> plates_, taps_, wood_taps_;
    int touched_count_ = 0, taps_added_ = 0;
};

} // namespace platewright::ledger
