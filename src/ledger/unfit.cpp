#include "ledger/unfit.hpp"

#include "base/failure.hpp"
#include "base/utf8.hpp"
#include "ledger/schema.hpp"
#include "ledger/shape_record.hpp"
#include "ledger/wood_record.hpp"
#include "modes/subject.hpp"
#include "taps/spot.hpp"
#include "taps/verdict.hpp"

#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <map>
#include <utility>

namespace platewright::ledger {
namespace {

struct WordColumn {
    std::string_view table, column;
    bool (*knows)(std::string_view word);
};

constexpr std::array k_word_columns{
    WordColumn{"instrument", "kind",
               [](std::string_view w) { return modes::instrument_kind_from_word(w).has_value(); }},
    WordColumn{"plate", "part",
               [](std::string_view w) { return modes::part_from_word(w).has_value(); }},
    WordColumn{"session", "stage",
               [](std::string_view w) { return modes::stage_from_word(w).has_value(); }},
    WordColumn{"tap", "verdict",
               [](std::string_view w) { return taps::verdict_from_word(w).has_value(); }},
    WordColumn{"tap", "spot",
               [](std::string_view w) { return taps::spot_from_word(w).has_value(); }},
    WordColumn{"mode_spot", "spot",
               [](std::string_view w) { return taps::spot_from_word(w).has_value(); }},
    WordColumn{"flex", "kind",
               [](std::string_view w) { return flex_kind_from_word(w).has_value(); }},
    WordColumn{"weighing", "thing",
               [](std::string_view w) { return laid_thing_from_word(w).has_value(); }},
    WordColumn{"wood_test", "piece",
               [](std::string_view w) { return piece_from_word(w).has_value(); }},
    WordColumn{"wood_tap", "verdict",
               [](std::string_view w) { return taps::verdict_from_word(w).has_value(); }},
    WordColumn{"wood_tap", "spot",
               [](std::string_view w) { return taps::spot_from_word(w).has_value(); }},
    WordColumn{"wood_mode", "motion",
               [](std::string_view w) { return wood_motion_from_word(w).has_value(); }},
};

bool has_table(Database& database, std::string_view table) {
    Statement row{database, "SELECT 1 FROM sqlite_schema WHERE type = 'table' AND name = ?"};
    row.bind_all(table);
    return row.step();
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

std::string described(const std::string& name, const Made& made) {
    return fmt::format("{} “{}”", made.type, base::harmless(name));
}

} // namespace

bool is_known_word(std::string_view table, std::string_view column, std::string_view word) {
    const auto found = std::ranges::find_if(k_word_columns, [&](const WordColumn& one) {
        return one.table == table && one.column == column;
    });
    return found == k_word_columns.end() || found->knows(word);
}

std::vector<std::string> rows_with_unknown_words(Database& database) {
    std::vector<std::string> lines;
    for (const WordColumn& column : k_word_columns) {
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
            lines.push_back(described(name, made) + " is lacking");
        else if (found->second != made)
            lines.push_back(described(name, found->second) + " is not as this program makes it");
    }
    for (const auto& [name, made] : there)
        if (!here.contains(name) && (which == Foreign::all || made.type != "table"))
            lines.push_back(described(name, made) + " is not of this program's making");
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
