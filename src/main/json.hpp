#pragma once
#include "bench/sound/listening.hpp"
#include "ledger/record.hpp"
#include "modes/mode.hpp"
#include "trends/drift/comparison.hpp"
#include "trends/drift/drift.hpp"

#include <nlohmann/json.hpp>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace platewright::cli {

/// The JSON of each command is documented in docs/json.md; a schema's number changes when a field
/// is renamed, removed or changes its meaning, not when one is added. Keys stay in the order given.
using Json = nlohmann::ordered_json;

Json to_json(const modes::Partial& partial);
Json to_json(const modes::Mode& mode);
Json to_json(const modes::NamedMode& mode);
Json to_json(const bench::HeardTap& tap);
Json to_json(const ledger::SessionRecord& session);
Json to_json(const trends::Change& change);

template <class T>
Json or_null(const std::optional<T>& value) {
    return value ? Json(*value) : Json(nullptr);
}

template <class List>
Json to_array(const List& list) {
    Json array = Json::array();
    for (const auto& one : list)
        array.push_back(to_json(one));
    return array;
}

/// One line, or indented for people.
void print(const Json& json, bool indented);

} // namespace platewright::cli
