#pragma once
/// A tree of facts (witness.hpp) made fit to be merged into a database.

#include "ledger/tables/database.hpp"

#include <nlohmann/json_fwd.hpp>
#include <string>

namespace platewright::ledger {

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
