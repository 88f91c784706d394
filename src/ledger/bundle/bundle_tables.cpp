#include "ledger/bundle/bundle_tables.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <utility>

namespace platewright::ledger {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::array k_tables{
    BundledTable{"wood", "", "uid", "woods"},
    BundledTable{"wood_test", "wood", "uid", "tests of wood"},
    BundledTable{"wood_tap", "wood_test", "uid", "taps of wood", false, "recording"},
    BundledTable{"wood_mode", "wood_test", "made_ms motion", "motions of wood"},
    BundledTable{"instrument", "", "uid", "instruments"},
    BundledTable{"plate", "instrument", "uid", "plates"},
    BundledTable{"carving", "plate", "said_ms", "carvings"},
    BundledTable{"target", "plate", "said_ms number", "targets"},
    BundledTable{"form", "plate", "said_ms", "shapes", true},
    BundledTable{"form_rim", "form", "place", "outlines"},
    BundledTable{"form_height", "form", "place", "heights"},
    BundledTable{"form_f_hole", "form", "", "f-holes"},
    BundledTable{"form_f_hole_rim", "form", "hole place", "lines of f-holes"},
    BundledTable{"form_bar", "form", "", "bass bars"},
    BundledTable{"session", "plate", "uid", "sessions"},
    BundledTable{"weighing", "session", "uid", "weighings"},
    BundledTable{"tap", "session", "uid", "taps", false, "recording"},
    BundledTable{"reading", "tap", "analysis_version", "readings of taps", true},
    BundledTable{"partial", "reading", "place", "partials"},
    BundledTable{"mode_set", "session", "analysis_version", "sets of modes", true},
    BundledTable{"mode", "mode_set", "", "modes"},
    BundledTable{"mode_spot", "mode", "spot", "spots"},
    BundledTable{"naming", "session", "said_ms frequency_hz", "names given"},
    BundledTable{"reference", "session", "uid", "references"},
    BundledTable{"thickness_map", "session", "made_ms", "thickness maps", true},
    BundledTable{"thickness", "thickness_map", "place", "thickness readings"},
    BundledTable{"pin", "session", "uid", "pins"},
    BundledTable{"flex", "session", "uid", "flex readings"},
    BundledTable{"plan", "session", "uid", "plans", true},
    BundledTable{"plan_mode", "plan", "place", "modes of plans"},
    BundledTable{"plan_stroke", "plan", "place", "strokes of plans"},
};

struct ForeignKey {
    std::string column, table;
};

std::vector<ForeignKey> foreign_keys(Database& database, std::string_view table) {
    Statement rows{database, "SELECT \"from\", \"table\" FROM pragma_foreign_key_list(?)", table};
    std::vector<ForeignKey> keys;
    while (rows.step()) {
        std::string column = rows.text();
        keys.push_back({std::move(column), rows.text()});
    }
    return keys;
}

TableShape shape_of(Database& database, const BundledTable& table) {
    TableShape shape{
        .table = table, .parent_column = {}, .columns = {}, .order = {}, .children = {}};
    const std::vector<ForeignKey> keys = foreign_keys(database, table.name);
    Statement rows{database,
                   "SELECT name, type, \"notnull\", dflt_value IS NULL, pk "
                   "FROM pragma_table_info(?)",
                   table.name};
    while (rows.step()) {
        TableShape::Column column{rows.text(), rows.text(), false, {}};
        const bool not_null = rows.truth();
        const bool no_default = rows.truth();
        const bool in_key = rows.truth();
        column.needed = not_null && no_default;
        const auto key = std::ranges::find(keys, column.name, &ForeignKey::column);
        if (column.name == "id") {
            shape.has_id = true;
            continue;
        }
        if (column.name == "binned_ms") {
            shape.has_bin = true;
            continue;
        }
        if (key != keys.end() && key->table == table.parent) {
            shape.parent_column = column.name;
            continue;
        }
        if (key != keys.end() && key->table != "recording") // a recording's name is its content
            column.refers_to = key->table;
        if (in_key)
            shape.order.push_back(column.name);
        shape.columns.push_back(std::move(column));
    }
    if (shape.has_id)
        shape.order = {"id"};
    if (shape.order.empty())
        shape.order = {shape.parent_column};
    return shape;
}

} // namespace

Json as_json(const Value& value) {
    return std::visit(
        [](const auto& held) -> Json {
            if constexpr (std::is_same_v<std::decay_t<decltype(held)>, std::monostate>)
                return nullptr;
            else
                return held;
        },
        value);
}

std::span<const BundledTable> bundled_tables() { return k_tables; }

const TableShape::Column* TableShape::column(std::string_view name) const {
    const auto found = std::ranges::find(columns, name, &Column::name);
    return found == columns.end() ? nullptr : &*found;
}

// A reference to another thing is read as that thing's uid, by which every ledger knows it.
std::string TableShape::column_list() const {
    std::vector<std::string> list;
    for (const Column& column : columns)
        list.push_back(column.refers_to.empty()
                           ? column.name
                           : fmt::format("(SELECT uid FROM {} u WHERE u.id = {}.{})",
                                         column.refers_to, table.name, column.name));
    return fmt::format("{}", fmt::join(list, ", "));
}

std::vector<std::string> TableShape::raw_columns() const {
    std::vector<std::string> list;
    if (has_id)
        list.emplace_back("id");
    if (!parent_column.empty())
        list.push_back(parent_column);
    if (has_bin)
        list.emplace_back("binned_ms");
    for (const Column& one : columns)
        list.push_back(one.name);
    return list;
}

std::vector<TableShape> table_shapes(Database& database) {
    std::vector<TableShape> shapes;
    for (const BundledTable& table : k_tables) {
        shapes.push_back(shape_of(database, table));
        for (TableShape& parent : shapes)
            if (parent.table.name == table.parent)
                parent.children.push_back(shapes.size() - 1);
    }
    return shapes;
}

std::size_t place_of(const std::vector<TableShape>& shapes, std::string_view table) {
    const auto found = std::ranges::find_if(
        shapes, [table](const TableShape& shape) { return shape.table.name == table; });
    if (found == shapes.end())
        throw std::invalid_argument{"no such table in a bundle: " + std::string{table}};
    return static_cast<std::size_t>(found - shapes.begin());
}

void remove_tree(Database& database, const std::vector<TableShape>& shapes, std::string_view table,
                 std::string_view by, std::int64_t value, bool (*stay)(std::string_view table)) {
    const TableShape& shape = shapes[place_of(shapes, table)];
    if (shape.has_id)
        for (const std::int64_t id :
             database.integers(fmt::format("SELECT id FROM {} WHERE {} = ?", table, by), value))
            for (const std::size_t child : shape.children)
                if (const TableShape& below = shapes[child];
                    stay == nullptr || !stay(below.table.name))
                    remove_tree(database, shapes, below.table.name, below.parent_column, id, stay);
    database.execute(fmt::format("DELETE FROM {} WHERE {} = ?", table, by), value);
}

TreeReader::TreeReader(Database& database, Bin bin)
    : database_{database}, bin_{bin}, shapes_{table_shapes(database)} {}

Json TreeReader::rows_of(std::string_view table, std::int64_t parent) {
    const std::size_t place = place_of(shapes_, table);
    return rows(place, shapes_[place].parent_column + " = ?", parent);
}

Json TreeReader::all_rows(std::string_view table) {
    return rows(place_of(shapes_, table), "id > ?", 0);
}

Json TreeReader::row(std::string_view table, std::int64_t id) {
    Json found = rows(place_of(shapes_, table), "id = ?", id);
    return found.empty() ? Json(nullptr) : std::move(found.front());
}

Json TreeReader::row_alone(std::string_view table, std::int64_t id) {
    alone_ = true;
    Json found = row(table, id);
    alone_ = false;
    return found;
}

bool TreeReader::is_left_out(std::size_t place) const {
    return alone_ || std::ranges::find(left_out_, shapes_[place].table.name) != left_out_.end();
}

Json TreeReader::rows(std::size_t place, std::string_view condition, std::int64_t value) {
    const TableShape& shape = shapes_[place];
    const bool tells_bin = shape.has_bin && bin_ == Bin::with;
    Statement statement{database_,
                        fmt::format("SELECT {}, {}, {} FROM {} WHERE {}{} ORDER BY {}",
                                    shape.has_id ? "id" : "0", tells_bin ? "binned_ms" : "0",
                                    shape.column_list(), shape.table.name, condition,
                                    shape.has_bin && !tells_bin ? " AND binned_ms IS NULL" : "",
                                    fmt::join(shape.order, ", ")),
                        value};
    Json list = Json::array();
    while (statement.step()) {
        const std::int64_t id = statement.integer();
        const Value binned = statement.value();
        Json row = Json::object();
        for (const TableShape::Column& column : shape.columns)
            row[column.name] = as_json(statement.value());
        if (tells_bin)
            row["binned_ms"] = as_json(binned);
        for (const std::size_t child : shape.children) {
            if (is_left_out(child))
                continue;
            if (Json below = rows(child, shapes_[child].parent_column + " = ?", id); !below.empty())
                row[std::string{shapes_[child].table.name}] = std::move(below);
        }
        list.push_back(std::move(row));
    }
    return list;
}

} // namespace platewright::ledger
