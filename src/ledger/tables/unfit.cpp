#include "ledger/tables/unfit.hpp"

#include "base/failure.hpp"
#include "base/utf8.hpp"
#include "ledger/shape_columns.hpp"
#include "ledger/tables/record_rows.hpp"
#include "ledger/tables/schema.hpp"
#include "ledger/wood_columns.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <map>
#include <utility>

namespace platewright::ledger {
namespace {

struct WordColumn {
    std::string_view table, column;
    bool (*knows)(std::string_view word);
};

template <class Record>
void add_words_of(std::vector<WordColumn>& all) {
    for_each_column<Record>([&]<class Of>(const Of& column) {
        using Field = std::remove_cvref_t<decltype(column.of(std::declval<Record&>()))>;
        if constexpr (std::is_enum_v<Field>)
            all.push_back({TableOf<Record>::name, column.name, [](std::string_view word) {
                               return WordsOf<Field>::from(word).has_value();
                           }});
    });
}

/// The columns that hold words of an enum.
const std::vector<WordColumn>& word_columns() {
    static const std::vector<WordColumn> k_all = [] {
        std::vector<WordColumn> all;
        add_words_of<InstrumentRecord>(all);
        add_words_of<PlateRecord>(all);
        add_words_of<SessionRecord>(all);
        add_words_of<TapRecord>(all);
        add_words_of<modes::SpotLevel>(all);
        add_words_of<FlexRecord>(all);
        add_words_of<WeighingRecord>(all);
        add_words_of<WoodTestRecord>(all);
        add_words_of<WoodTapRecord>(all);
        add_words_of<WoodModeRecord>(all);
        return all;
    }();
    return k_all;
}

bool has_table(Database& database, std::string_view table) {
    return database
        .first_integer("SELECT 1 FROM sqlite_schema WHERE type = 'table' AND name = ?", table)
        .has_value();
}

struct Made {
    std::string type, sql;
    bool operator==(const Made&) const = default;
};

/// A statement that made something, without the blanks and quotes that another SQLite may set
/// otherwise.
std::string squeezed(std::string sql) {
    std::erase_if(
        sql, [](char c) { return c == ' ' || c == '\n' || c == '\t' || c == '\r' || c == '"'; });
    return sql;
}

/// What was made in a database, by name; SQLite's own indexes and statistics are left out.
std::map<std::string, Made> made_in(Database& database) {
    std::map<std::string, Made> made;
    Statement rows{database,
                   "SELECT name, type, coalesce(sql, '') FROM sqlite_schema WHERE name NOT "
                   "LIKE 'sqlite\\_%' ESCAPE '\\'"};
    while (rows.step()) {
        std::string name = rows.text();
        std::string type = rows.text();
        made[std::move(name)] = {std::move(type), squeezed(rows.text())};
    }
    return made;
}

std::string described_part(const std::string& name, const Made& made) {
    return fmt::format("{} “{}”", made.type, base::harmless(name));
}

} // namespace

bool is_known_word(std::string_view table, std::string_view column, std::string_view word) {
    const auto found = std::ranges::find_if(word_columns(), [&](const WordColumn& one) {
        return one.table == table && one.column == column;
    });
    return found == word_columns().end() || found->knows(word);
}

std::vector<std::string> rows_with_unknown_words(Database& database) {
    std::vector<std::string> lines;
    for (const WordColumn& column : word_columns()) {
        if (!has_table(database, column.table))
            continue; // of an older ledger, or lacking, which foreign_tables() says
        Statement words{database, fmt::format("SELECT {0}, count(*) FROM {1} GROUP BY {0}",
                                              column.column, column.table)};
        while (words.step()) {
            const std::string word = words.text();
            const std::int64_t rows = words.integer();
            if (!column.knows(word))
                lines.push_back(fmt::format(
                    "the word “{}” in the column {} of {} {} of the table {}", base::harmless(word),
                    column.column, rows, rows == 1 ? "row" : "rows", column.table));
        }
    }
    return lines;
}

std::vector<std::string> taps_at_odds_with_recordings(Database& database) {
    std::vector<std::string> lines;
    for (const char* table : {"tap", "wood_tap"}) {
        if (!has_table(database, table))
            continue;
        Statement count{
            database,
            fmt::format("SELECT count(*) FROM {} t JOIN recording r ON r.hash = t.recording "
                        "WHERE t.onset_index < 0 OR t.onset_index >= r.frames OR "
                        "abs(t.sample_rate_hz - r.sample_rate_hz) > 0.5",
                        table)};
        if (const std::int64_t rows = count.step() ? count.integer() : 0; rows > 0)
            lines.push_back(
                fmt::format("the beginning or the rate of {} {} of the table {}, which can't be "
                            "those of the recording",
                            rows, rows == 1 ? "row" : "rows", table));
    }
    return lines;
}

std::vector<std::string> foreign_tables(Database& database, Foreign which) {
    const std::int64_t version = schema_version(database);
    Database ours{k_in_memory, Database::Access::read_write};
    for (const char* step : schema_steps().first(static_cast<std::size_t>(version)))
        ours.run(step);
    const auto there = made_in(database), here = made_in(ours);
    std::vector<std::string> lines;
    for (const auto& [name, made] : here) {
        const auto found = there.find(name);
        if (found == there.end())
            lines.push_back(described_part(name, made) + " is lacking");
        else if (found->second != made)
            lines.push_back(described_part(name, found->second) +
                            " is not as this program makes it");
    }
    for (const auto& [name, made] : there)
        if (!here.contains(name) && (which == Foreign::all || made.type != "table"))
            lines.push_back(described_part(name, made) + " is not of this program's making");
    return lines;
}

std::vector<std::string> unfit(Database& database) {
    std::vector<std::string> lines = foreign_tables(database);
    for (const auto& look : {rows_with_unknown_words, taps_at_odds_with_recordings})
        try {
            for (std::string& line : look(database))
                lines.push_back(std::move(line));
        } catch (const base::Failure&) {
            if (lines.empty()) // no table is lacking: the disk, or damage
                throw;
        }
    return lines;
}

} // namespace platewright::ledger
