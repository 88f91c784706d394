// The part of Store that tells what lies in the bin.
#include "base/clock.hpp"
#include "ledger/bundle/bundle_tables.hpp"
#include "ledger/store_impl.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <array>
#include <fmt/format.h>

namespace platewright::ledger {
namespace {

/// What a row of this table is called.
std::string_view kind_word(std::string_view table) {
    struct KindWord {
        std::string_view table;
        wording::Phrase words;
    };
    constexpr std::array k_words{KindWord{"instrument", "instrument"},
                                 KindWord{"plate", "plate"},
                                 KindWord{"session", "session"},
                                 KindWord{"tap", "tap"},
                                 KindWord{"reference", "reference"},
                                 KindWord{"pin", "pin"},
                                 KindWord{"flex", "flex reading"},
                                 KindWord{"weighing", "weighing"},
                                 KindWord{"wood", "wood"},
                                 KindWord{"wood_test", "test of wood"},
                                 KindWord{"wood_tap", "tap of wood"}};
    const auto found = std::ranges::find(k_words, table, &KindWord::table);
    return found == k_words.end() ? table : wording::say(found->words);
}

/// What tells a row from others of its table to a person: a label, a note, a moment.
std::string own_words(Database& database, const TableShape& shape, Id id) {
    constexpr std::array<std::string_view, 4> k_telling{"label", "text", "begun_ms", "at_ms"};
    for (const std::string_view name : k_telling) {
        if (shape.column(name) == nullptr)
            continue;
        Statement row{database,
                      fmt::format("SELECT {} FROM {} WHERE id = ?", name, shape.table.name), id};
        if (!row.step())
            return {};
        return name.ends_with("_ms") ? base::local_date_time({row.integer()})
                                     : fmt::format("“{}”", row.text());
    }
    return {};
}

/// "session 2026-03-14 09:26, plate “Wren back”, instrument “Wren”".
std::string described_thing(Database& database, const std::vector<TableShape>& shapes,
                            std::string_view table, Id id) {
    const TableShape& shape = shapes[place_of(shapes, table)];
    std::string words{kind_word(table)};
    if (const std::string own = own_words(database, shape, id); !own.empty())
        words += " " + own;
    if (shape.parent_column.empty())
        return words;
    const auto parent = database.first_integer(
        fmt::format("SELECT {} FROM {} WHERE id = ?", shape.parent_column, table), id);
    return parent ? words + ", " + described_thing(database, shapes, shape.table.parent, *parent)
                  : words;
}

} // namespace

std::vector<BinnedThing> Store::in_the_bin() const {
    Database& database = *impl_->database;
    const std::vector<TableShape> shapes = table_shapes(database);
    std::vector<BinnedThing> things;
    for (const TableShape& shape : shapes) {
        if (!shape.has_bin)
            continue;
        Statement rows{database,
                       fmt::format("SELECT id, binned_ms FROM {} WHERE binned_ms IS NOT NULL",
                                   shape.table.name)};
        while (rows.step()) {
            BinnedThing thing{std::string{shape.table.name}, rows.integer(), {rows.integer()}, {}};
            thing.what = described_thing(database, shapes, shape.table.name, thing.id);
            things.push_back(std::move(thing));
        }
    }
    std::ranges::stable_sort(things, std::ranges::greater{}, &BinnedThing::binned);
    return things;
}

} // namespace platewright::ledger
