#pragma once
#include "ledger/tables/database.hpp"

#include <cstdint>
#include <filesystem>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>
#include <vector>

/// The text of facts (witness.hpp), and the files they lie in.
/// A tree of facts (witness.hpp) made fit to be merged into a database.

namespace platewright::ledger {

/// A tree of facts as text. `number`: of its file; 0 in a recording, which is never written anew.
std::string facts_text(std::int64_t number, std::string_view table, nlohmann::ordered_json row);

/// Puts a row into the one it belongs to, alone in the list of its table.
void put_within(nlohmann::ordered_json& above, std::string_view table, nlohmann::ordered_json row);

/// Cuts long texts at a letter's end; what is cut stands whole in the session's file of facts.
void shorten(nlohmann::ordered_json& row);

/// The number at the head of a file of facts; 0 where there is none.
std::int64_t number_of_facts(const std::filesystem::path& file);

/// Moves a file of a later history into `facts/earlier`, where mending reads it too.
void set_facts_aside(const std::filesystem::path& file, std::int64_t number);
std::vector<std::filesystem::path> facts_set_aside(const std::filesystem::path& ledger);

/// The folder of facts within a ledger's recordings, and the files there.
std::filesystem::path facts_folder(const std::filesystem::path& ledger);
std::vector<std::filesystem::path> facts_files(const std::filesystem::path& ledger);

/// The tap at the end of a recording's tree gets that recording, which could not name itself.
void name_recording(nlohmann::ordered_json& tree, const std::string& hash);

/// Of what a session's file says of its instrument and plate, leaves what makes them known where
/// the database has them: their own file has the word on them, and a plate may have moved since.
void leave_known_owners(Database& database, nlohmann::ordered_json& instrument);

/// Of a recording's tree, leaves what makes the owners of its tap known, and the tap.
void leave_tap_only(nlohmann::ordered_json& row);

/// Takes the rows that a tree names out of the bin, so that they are compared like others; gives
/// whether there were any. put_into_bin() then puts them where the tree says.
bool lift_from_bin(Database& database, const std::string& table, const nlohmann::ordered_json& row);
bool put_into_bin(Database& database, const std::string& table, const nlohmann::ordered_json& row);

} // namespace platewright::ledger
