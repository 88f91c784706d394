#pragma once
#include "base/clock.hpp"
#include "bench/sound/listening.hpp"
#include "ledger/shape_columns.hpp"
#include "ledger/wood_columns.hpp"
#include "trends/drift/comparison.hpp"
#include "trends/drift/drift.hpp"

#include <nlohmann/json.hpp>

namespace platewright::cli {

/// The JSON of each command is documented in docs/json.md; a schema's number changes when a field
/// is renamed, removed or changes its meaning, not when one is added. Keys stay in the order given.
/// What may lack is null, a word of an enum its word, a moment in ISO 8601, a record of the ledger
/// what its description says (ledger/columns.hpp), and a list of any of these an array.
using Json = nlohmann::ordered_json;

/// One line, or indented for people.
void print(const Json& json, bool indented = true);

/// An array of what `json_of` makes of each.
template <class List, class Make>
Json array_of(const List& list, const Make& json_of) {
    Json array = Json::array();
    for (const auto& one : list)
        array.push_back(json_of(one));
    return array;
}

Json or_null(bool is_known, const auto& value) { return is_known ? Json(value) : Json(nullptr); }

/// The trade's number of a mode that bears a name.
inline Json number_of(const std::optional<modes::ModeName>& name) {
    return name ? Json(name->number) : Json(nullptr);
}

/// The plate with its instrument's label.
Json plate_json(const ledger::PlateHistory& history);

/// The fields that a record's description says; what it belongs to stands around it.
template <class Record>
Json described(const Record& record) {
    Json json = Json::object();
    if constexpr (ledger::Numbered<Record>)
        json["id"] = record.id;
    ledger::for_each_shown<Record>([&](std::string_view name, const auto& column) {
        const auto& field = column.of(record);
        Json& shown = json[std::string(name)] = field;
        if (column.asked.takes == ledger::Takes::pieces)
            shown = shown == true ? 2 : 1;
    });
    return json;
}

} // namespace platewright::cli

template <class Value>
struct nlohmann::adl_serializer<std::optional<Value>> {
    static void to_json(auto& json, const std::optional<Value>& value) {
        if (value)
            json = *value;
        else
            json = nullptr;
    }
};
template <class Word>
requires requires(Word word) {
    { to_word(word) } -> std::same_as<std::string_view>;
}
struct nlohmann::adl_serializer<Word> {
    static void to_json(auto& json, Word word) { json = to_word(word); }
};
template <>
struct nlohmann::adl_serializer<platewright::base::Timestamp> {
    static void to_json(auto& json, platewright::base::Timestamp moment) {
        json = platewright::base::to_iso(moment);
    }
};
template <class Record>
requires requires { platewright::ledger::TableOf<Record>::columns; }
struct nlohmann::adl_serializer<Record> {
    static void to_json(auto& json, const Record& record) {
        json = platewright::cli::described(record);
    }
};
// More than is kept of them.
template <>
struct nlohmann::adl_serializer<platewright::modes::Mode> {
    static void to_json(platewright::cli::Json& json, const platewright::modes::Mode& mode);
};
template <>
struct nlohmann::adl_serializer<platewright::modes::NamedMode> {
    static void to_json(platewright::cli::Json& json, const platewright::modes::NamedMode& mode);
};
template <>
struct nlohmann::adl_serializer<platewright::bench::HeardTap> {
    static void to_json(platewright::cli::Json& json, const platewright::bench::HeardTap& tap);
};
template <>
struct nlohmann::adl_serializer<platewright::trends::Change> {
    static void to_json(platewright::cli::Json& json, const platewright::trends::Change& change);
};
