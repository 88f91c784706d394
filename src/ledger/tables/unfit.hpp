#pragma once
/// What lies in a ledger's database and this program did not put there, or can't use: words of a
/// later program, tables that another hand changed.

#include "ledger/tables/database.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace platewright::ledger {

/// Whether a text may stand in a column of words; true for every other column.
bool is_known_word(std::string_view table, std::string_view column, std::string_view word);

/// Rows with words that this program does not know, a line each kind: it leaves them out, or reads
/// them as unknown, and keeps them.
std::vector<std::string> rows_with_unknown_words(Database& database);

/// Taps that begin outside their recording, or count at another rate than it: the recording is
/// believed.
std::vector<std::string> taps_at_odds_with_recordings(Database& database);

/// How the tables differ from those this program makes at the database's version: triggers and
/// views (it makes none), tables and columns that are lacking, changed or another hand's. Empty:
/// not at all. `harmful` leaves out whole tables beside ours, which change nothing of what this
/// program does. Cost: makes the tables once in memory, some milliseconds.
enum class Foreign { all, harmful };
std::vector<std::string> foreign_tables(Database& database, Foreign which = Foreign::all);

/// All of the three, as far as they can be asked: what a missing table keeps from being read is
/// left out.
std::vector<std::string> unfit(Database& database);

} // namespace platewright::ledger
