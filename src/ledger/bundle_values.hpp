#pragma once
/// What a bundle may say in a column, whoever wrote it.

#include "ledger/bundle_tables.hpp"
#include "ledger/database.hpp"

#include <nlohmann/json_fwd.hpp>
#include <stdexcept>
#include <string>
#include <string_view>

namespace platewright::ledger {

/// The bundle says something that cannot be; the text is for the log.
struct BadBundle : std::runtime_error {
    using std::runtime_error::runtime_error;
};

/// Whether a text is `length` lower-case hexadecimal digits: a uid (32) or a recording's hash (64).
bool is_hex(std::string_view text, std::size_t length);

/// The column's value in a row, or nothing where the row lacks it. Throws BadBundle where it is
/// needed and lacking, of another type, too long, or beyond what can be measured.
Value checked_value(const TableShape::Column& column, const nlohmann::ordered_json& row);

/// The text of one JSON file. Throws BadBundle where it is not JSON or is nested absurdly.
nlohmann::ordered_json parse_bundled(std::string_view text, const std::string& name);

/// A value for people: a time as a date, a number short, nothing as a dash.
std::string shown(const std::string& column, const Value& value);

} // namespace platewright::ledger
