#include "ledger/bundle/tree_merge.hpp"

#include "base/clock.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <nlohmann/json.hpp>
#include <sstream>
#include <utility>

namespace platewright::ledger {
namespace {

using Json = nlohmann::ordered_json;

std::string text_in(const Json& row, const char* name) {
    const auto found = row.find(name);
    return found != row.end() && found->is_string() ? found->get<std::string>() : std::string{};
}

std::string place_of(const TableShape& shape, const Json& row) {
    const std::string name{shape.table.name};
    if (const std::string label = text_in(row, "label"); !label.empty())
        return fmt::format("{} “{}”", name, label);
    for (const char* moment : {"begun_ms", "at_ms"})
        if (const auto found = row.find(moment); found != row.end() && found->is_number_integer())
            return fmt::format("{} {}", name, base::to_iso({found->get<std::int64_t>()}));
    return name;
}

std::vector<std::string> names_in(std::string_view text) {
    std::istringstream words{std::string{text}};
    std::vector<std::string> list;
    for (std::string word; words >> word;)
        list.push_back(std::move(word));
    return list;
}

} // namespace

TreeMerge::TreeMerge(Database& database, const TakeOptions& options, TakeReport& report,
                     std::function<bool(const std::string&)> bring)
    : database_{database}, options_{options}, report_{report}, bring_{std::move(bring)},
      reader_{database} {}

void TreeMerge::take(std::string_view table, const Json& row) {
    merge({reader_.shape_of(table), row, 0});
}

template <class Visit>
void TreeMerge::each_child(const Row& row, std::int64_t id, const Visit& visit) {
    for (const std::size_t place : row.shape.children) {
        const TableShape& child = reader_.shapes()[place];
        const auto list = row.json.find(std::string{child.table.name});
        if (list == row.json.end())
            continue;
        if (!list->is_array())
            throw BadBundle{std::string{child.table.name} + " is no list"};
        for (const Json& one : *list)
            visit(Row{child, one, id});
    }
}

void TreeMerge::merge(const Row& row) {
    if (!row.json.is_object())
        throw BadBundle{std::string{row.shape.table.name} + " is no object"};
    path_.push_back(place_of(row.shape, row.json));
    const int touched_before = touched_count_;
    const Found found = find(row);
    std::int64_t id = found.id;
    if (found.id == 0 && row.shape.table.whole) {
        ++tally(row.shape).added;
        insert_tree(row);
    } else if (found.id == 0) {
        ++tally(row.shape).added;
        id = insert(row);
    } else if (found.binned) {
        ++tally(row.shape).in_the_bin;
    } else if (row.shape.table.whole) {
        compare_whole(row, id);
    } else {
        compare(row, id);
    }
    const int taps_before = taps_added_;
    if (!row.shape.table.whole)
        each_child(row, id, [this](const Row& child) { merge(child); });
    if (row.shape.table.name == "tap" && found.id == 0)
        ++taps_added_;
    if (row.shape.table.name == "session" && found.id != 0 && taps_added_ > taps_before)
        ++report_.sessions_with_more_taps;
    if (row.shape.table.name == "plate" && touched_count_ > touched_before)
        plates_.push_back(id);
    path_.pop_back();
}

TreeMerge::Found TreeMerge::find(const Row& row) {
    const BundledTable& table = row.shape.table;
    if (table.identity != "uid")
        return find_within(row, table.identity);
    const TableShape::Column uid{"uid", "TEXT", true, {}};
    Statement known{database_,
                    fmt::format("SELECT id, {} FROM {} WHERE uid = ?",
                                row.shape.has_bin ? "binned_ms IS NOT NULL" : "0", table.name)};
    known.bind_each(std::array{checked_value(row.shape, uid, row.json)});
    if (known.step()) {
        const std::int64_t id = known.integer();
        return {id, known.truth()};
    }
    return table.or_by.empty() || text_in(row.json, std::string{table.or_by}.c_str()).empty()
               ? Found{}
               : find_within(row, table.or_by);
}

TreeMerge::Found TreeMerge::find_within(const Row& row, std::string_view columns) {
    std::string condition = row.shape.parent_column + " = ?";
    std::vector<Value> values{row.parent};
    for (const std::string& name : names_in(columns)) {
        const TableShape::Column* column = row.shape.column(name);
        condition += fmt::format(" AND {} IS ?", name);
        values.push_back(checked_value(row.shape, *column, row.json));
    }
    Statement known{database_, fmt::format("SELECT id, {} FROM {} WHERE {}",
                                           row.shape.has_bin ? "binned_ms IS NOT NULL" : "0",
                                           row.shape.table.name, condition)};
    known.bind_each(values);
    if (!known.step())
        return {};
    const std::int64_t id = known.integer();
    return {id, known.truth()};
}

/// A value as it is to be kept: with ids of this ledger, and only recordings that are to be had.
Value TreeMerge::kept_value(const Row& row, const TableShape::Column& column) {
    Value value = checked_value(row.shape, column, row.json);
    const auto* text = std::get_if<std::string>(&value);
    if (text == nullptr)
        return value;
    if (column.name == "recording") {
        if (bring_(*text))
            return value;
        ++report_.recordings_lacking;
        return {};
    }
    if (column.refers_to.empty())
        return value;
    Statement known{database_, fmt::format("SELECT id FROM {} WHERE uid = ?", column.refers_to),
                    *text};
    if (known.step())
        return known.integer();
    if (column.needed)
        throw BadBundle{column.name + " names what is not there"};
    return {}; // it lay in the bin where the bundle was made
}

std::int64_t TreeMerge::insert(const Row& row) {
    std::vector<std::string> names;
    std::vector<Value> values;
    if (!row.shape.parent_column.empty()) {
        names.push_back(row.shape.parent_column);
        values.emplace_back(row.parent);
    }
    for (const TableShape::Column& column : row.shape.columns) {
        Value value = kept_value(row, column);
        if (std::holds_alternative<std::monostate>(value))
            continue; // a column that a later version added gets its own default
        names.push_back(column.name);
        values.push_back(std::move(value));
    }
    Statement{database_, insert_sql(row.shape.table.name, names)}.bind_each(values).step();
    const std::int64_t id = database_.last_row_id();
    touch(row, id);
    journal_.added(row.shape.table.name, id, row.shape.table.parent, row.parent);
    return id;
}

void TreeMerge::insert_tree(const Row& row) {
    if (!row.json.is_object())
        throw BadBundle{std::string{row.shape.table.name} + " is no object"};
    const std::int64_t id = insert(row);
    each_child(row, id, [this](const Row& child) { insert_tree(child); });
}

void TreeMerge::put_back(std::string_view table, std::int64_t parent, const Json& tree) {
    insert_tree({reader_.shape_of(table), tree, parent});
}

void TreeMerge::compare(const Row& row, std::int64_t id) {
    const std::size_t before = report_.differences.size();
    const bool moves = row.shape.table.identity == "uid" && !row.shape.parent_column.empty();
    Statement here{database_,
                   fmt::format("SELECT {}, {} FROM {} WHERE id = ?",
                               moves ? row.shape.parent_column : "0", row.shape.column_list(),
                               row.shape.table.name),
                   id};
    here.step();
    const std::int64_t parent = here.integer();
    bool alike = true;
    if (moves && parent != row.parent) {
        alike = false;
        differ(row.shape.parent_column, "it belongs to another one", "it belongs here");
        if (options_.prefer_bundle) {
            journal_.changed(row.shape.table.name, id, row.shape.parent_column, parent, row.parent);
            database_.execute(fmt::format("UPDATE {} SET {} = ? WHERE id = ?", row.shape.table.name,
                                          row.shape.parent_column),
                              row.parent, id);
            touch(row, id);
        }
    }
    const std::vector<Value> values = here.values(row.shape.columns.size());
    for (std::size_t i = 0; i < values.size(); ++i)
        if (row.shape.columns[i].name != "uid" && row.json.contains(row.shape.columns[i].name))
            compare_column(row, row.shape.columns[i], id, values[i]);
    alike = alike && report_.differences.size() == before;
    ++(alike ? tally(row.shape).same : tally(row.shape).different);
}

void TreeMerge::compare_column(const Row& row, const TableShape::Column& column, std::int64_t id,
                               const Value& here) {
    const Value there = checked_value(row.shape, column, row.json);
    if (there == here) {
        if (const auto* hash = std::get_if<std::string>(&there); hash && column.name == "recording")
            bring_(*hash); // puts a damaged one right
        return;
    }
    differ(column.name, shown(column.name, here), shown(column.name, there));
    if (options_.prefer_bundle) {
        database_.execute(
            fmt::format("UPDATE {} SET {} = ? WHERE id = ?", row.shape.table.name, column.name),
            kept_value(row, column), id);
        touch(row, id);
        journal_.changed(row.shape.table.name, id, column.name, here, there);
    }
}

void TreeMerge::compare_whole(const Row& row, std::int64_t id) {
    const Json here = reader_.row(row.shape.table.name, id);
    if (content_of(here) == content_of(row.json)) {
        ++tally(row.shape).same;
        return;
    }
    ++tally(row.shape).different;
    const auto length = [](const Json& tree) {
        std::size_t count = 0;
        for (const auto& [key, value] : tree.items())
            count += value.is_array() ? value.size() : 0;
        return fmt::format("{} entries", count);
    };
    differ(std::string{row.shape.table.plural}, length(here), length(row.json));
    if (options_.prefer_bundle) {
        remove_tree(database_, reader_.shapes(), row.shape.table.name, "id", id);
        journal_.replaced(row.shape.table.name, row.parent, here);
        insert_tree(row);
    }
}

/// Of taps, whose own columns must fit each other, each one is remembered.
void TreeMerge::touch(const Row& row, std::int64_t id) {
    ++touched_count_;
    if (row.shape.table.name == "tap")
        taps_.push_back(id);
    if (row.shape.table.name == "wood_tap")
        wood_taps_.push_back(id);
}

void TreeMerge::differ(const std::string& what, const std::string& here, const std::string& there) {
    report_.differences.push_back({fmt::format("{}", fmt::join(path_, ", ")), what, here, there});
}

TakeReport::Kind& TreeMerge::tally(const TableShape& shape) {
    const auto known =
        std::ranges::find(report_.kinds, shape.table.plural, &TakeReport::Kind::table);
    if (known != report_.kinds.end())
        return *known;
    return report_.kinds.emplace_back(TakeReport::Kind{std::string{shape.table.plural}});
}

} // namespace platewright::ledger
