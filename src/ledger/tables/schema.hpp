#pragma once
#include "ledger/tables/database.hpp"

#include <filesystem>
#include <span>
#include <string>

namespace platewright::ledger {

/// The tables of the ledger, as numbered steps. A step once released is never edited; a change is a
/// new step. docs/ledger-format.md describes the tables.

/// "PLWR": what SQLite's application_id says of our databases.
inline constexpr std::int64_t k_application_id = 0x504C5752;

/// The statements that take a database from schema n to n + 1, n being the place in the list.
using SchemaSteps = std::span<const char* const>;
SchemaSteps schema_steps();

/// Schema version of a database; 0 for an empty one.
/// Fails: base::Failure when the database is another program's, or of a newer version than `steps`.
std::int64_t schema_version(Database& database, SchemaSteps steps = schema_steps());

/// Lays a copy of the whole database into a folder, under a name that says why and when.
void copy_aside(Database& database, const std::filesystem::path& backups, const std::string& name);

/// Takes the database to the newest schema, all steps in one transaction. A database that holds
/// something is first copied whole into `backups`, unless that is empty.
/// Fails: base::Failure; the database is then as it was.
void migrate(Database& database, const std::filesystem::path& backups,
             SchemaSteps steps = schema_steps());

} // namespace platewright::ledger
