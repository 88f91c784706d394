#pragma once
/// What of the ledger's tables goes into a bundle: a tree of rows, each within the one it belongs
/// to. Columns are taken from the tables as they are, so that a new one needs no word here.

#include "ledger/tables/database.hpp"

#include <array>
#include <nlohmann/json_fwd.hpp>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace platewright::ledger {

struct BundledTable {
    std::string_view name;
    std::string_view parent;   ///< the table whose rows these belong to; empty: none
    std::string_view identity; ///< columns that tell two ledgers' rows of one parent apart
    std::string_view plural;   ///< for people
    /// A row stands for all that belongs to it: it is the same in both ledgers, or it differs, but
    /// the two are never mixed.
    bool whole = false;
    /// A column that tells within one parent where the identity does not: a tap that was put back
    /// from its recording has a new uid.
    std::string_view or_by = {};
};

/// Parents before what belongs to them.
std::span<const BundledTable> bundled_tables();
/// Tables that are not bundled: a workshop's own settings, recordings, which are files, and what
/// the database says of itself (schema_steps.hpp).
inline constexpr std::array<std::string_view, 4> k_unbundled_tables{"setting", "recording", "seal",
                                                                    "facts_due"};

/// One table with its columns as they are in this ledger.
struct TableShape {
    struct Column {
        std::string name;
        std::string type; ///< INTEGER, REAL or TEXT
        bool needed = false;
        std::string refers_to; ///< a table whose uid stands for the id; empty: none
    };
    BundledTable table;
    std::string parent_column; ///< empty: none
    bool has_id = false;
    bool has_bin = false;
    std::vector<Column> columns; ///< without id, parent and bin
    std::vector<std::string> order;
    std::vector<std::size_t> children; ///< places in the list of shapes

    const Column* column(std::string_view name) const;
    std::string column_list() const;
    /// All columns as they lie in the table, id, parent and bin too.
    std::vector<std::string> raw_columns() const;
};

/// A value as a bundle says it.
nlohmann::ordered_json as_json(const Value& value);

/// Shapes in the order of bundled_tables().
std::vector<TableShape> table_shapes(Database& database);
/// A table's place in that list; throws std::invalid_argument where it is none of them.
std::size_t place_of(const std::vector<TableShape>& shapes, std::string_view table);

/// Takes rows away with all that belongs to them, but for those of tables that `stay` and what
/// belongs to these.
void remove_tree(Database& database, const std::vector<TableShape>& shapes, std::string_view table,
                 std::string_view by, std::int64_t value,
                 bool (*stay)(std::string_view table) = nullptr);

/// The rows of a table that belong to `parent`, as an array of objects: columns by name, then what
/// belongs to each row by its table's name. What lies in the bin is left out.
class TreeReader {
public:
    /// with: what lies in the bin comes too, and says so in its `binned_ms`.
    enum class Bin { without, with };
    explicit TreeReader(Database& database, Bin bin = Bin::without);
    /// Tables whose rows, and all that belongs to them, are left out of what is read from here on.
    void leave_out(std::vector<std::string_view> tables) { left_out_ = std::move(tables); }
    nlohmann::ordered_json rows_of(std::string_view table, std::int64_t parent);
    /// All rows of a table that belongs to none.
    nlohmann::ordered_json all_rows(std::string_view table);
    /// One row by its id. Null where it is not there or binned.
    nlohmann::ordered_json row(std::string_view table, std::int64_t id);
    /// The same without anything that belongs to it.
    nlohmann::ordered_json row_alone(std::string_view table, std::int64_t id);

    const std::vector<TableShape>& shapes() const { return shapes_; }
    const TableShape& shape_of(std::string_view table) const {
        return shapes_[place_of(shapes_, table)];
    }

private:
    nlohmann::ordered_json rows(std::size_t place, std::string_view condition, std::int64_t value);
    bool is_left_out(std::size_t place) const;

    Database& database_;
    Bin bin_;
    bool alone_ = false;
    std::vector<std::string_view> left_out_;
    std::vector<TableShape> shapes_;
};

} // namespace platewright::ledger
