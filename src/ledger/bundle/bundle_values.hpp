#pragma once
/// What a bundle may say in a column, whoever wrote it.

#include "ledger/bundle/bundle_tables.hpp"
#include "ledger/tables/database.hpp"

#include <functional>
#include <nlohmann/json_fwd.hpp>
#include <stdexcept>
#include <string>
#include <string_view>

namespace platewright::ledger {

/// The bundle says something that cannot be; the text is for the log.
struct BadBundle : std::runtime_error {
    using std::runtime_error::runtime_error;
};

/// The bundle says a word that this program does not know: a later one's, or another hand's.
struct StrangeWord : BadBundle {
    StrangeWord(std::string_view column, std::string_view said);
    std::string word;
};

/// Whether a text is `length` lower-case hexadecimal digits: a uid (32) or a recording's hash (64).
bool is_hex(std::string_view text, std::size_t length);

/// The column's value in a row, or nothing where the row lacks it. Throws BadBundle where it is
/// needed and lacking, of another type, too long, beyond what can be measured, or no word that this
/// program knows. Letters that act unseen (base/utf8.hpp) are replaced.
Value checked_value(const TableShape& table, const TableShape::Column& column,
                    const nlohmann::ordered_json& row);

/// The text of one JSON file. Throws BadBundle where it is not JSON, is nested absurdly or has more
/// objects than any instrument. `go_on` is asked every some thousand objects; false: BadBundle.
nlohmann::ordered_json parse_bundled(std::string_view text, const std::string& name,
                                     const std::function<bool()>& go_on = {});

/// What is left of a tree when only its content counts: an older bundle lacks columns that are
/// empty here, and when a thing was computed does not change it.
nlohmann::ordered_json content_of(const nlohmann::ordered_json& tree);

/// A value for people: a time as a date, a number short, nothing as a dash.
std::string shown(const std::string& column, const Value& value);

} // namespace platewright::ledger
