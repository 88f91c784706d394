#include "ledger/bundle_values.hpp"

#include "base/clock.hpp"

#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

namespace platewright::ledger {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t k_longest_text = 1U << 20U;
constexpr double k_greatest_integer = 9007199254740992.0; // 2^53: what any JSON reader can hold
constexpr double k_year_0_ms = -62167219200e3, k_year_9999_ms = 253402300799e3;
constexpr int k_deepest = 24;

/// Wider than anything that can be measured: this keeps nonsense out, and judges nobody's plate.
struct Range {
    std::string_view ending;
    double low, high;
};
constexpr std::array k_ranges{
    Range{"_hz", 0.0, 1e6},    Range{"_g", 0.0, 1e6},     Range{"_mm", -1e5, 1e5},
    Range{"_kg_m3", 0.0, 1e5}, Range{"_pct", 0.0, 1e4},   Range{"_c", -274.0, 1e4},
    Range{"_db", -1e4, 1e4},   Range{"_dbfs", -1e4, 1e4}, Range{"_rad", -1e4, 1e4},
};
constexpr double k_greatest = 1e15;

double checked_real(const std::string& name, double value) {
    double low = -k_greatest, high = k_greatest;
    for (const Range& range : k_ranges)
        if (name.ends_with(range.ending)) {
            low = range.low;
            high = range.high;
        }
    if (name == "frequency_hz" || name == "q" || name == "sample_rate_hz")
        low = 1e-9;
    if (!(value >= low && value <= high))
        throw BadBundle{fmt::format("{} is {}", name, value)};
    return value;
}

} // namespace

bool is_hex(std::string_view text, std::size_t length) {
    return text.size() == length && std::ranges::all_of(text, [](char c) {
               return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f');
           });
}

Value checked_value(const TableShape::Column& column, const Json& row) {
    const auto found = row.find(column.name);
    if (found == row.end() || found->is_null()) {
        if (column.needed)
            throw BadBundle{column.name + " is lacking"};
        return {};
    }
    if (column.type == "TEXT" || !column.refers_to.empty()) {
        if (!found->is_string())
            throw BadBundle{column.name + " is no text"};
        const auto& text = found->get_ref<const std::string&>();
        if (text.size() > k_longest_text || text.find('\0') != std::string::npos)
            throw BadBundle{column.name + " is no sensible text"};
        if (column.name == "uid" && !is_hex(text, 32))
            throw BadBundle{"a uid that is none"};
        return text;
    }
    if (!found->is_number())
        throw BadBundle{column.name + " is no number"};
    if (column.type == "REAL")
        return checked_real(column.name, found->get<double>());
    const bool is_time = column.name.ends_with("_ms");
    const double low = is_time ? k_year_0_ms : -k_greatest_integer;
    const double high = is_time ? k_year_9999_ms : k_greatest_integer;
    const auto rounded = found->get<double>();
    if (!found->is_number_integer() || rounded < low || rounded > high)
        throw BadBundle{column.name + " is no sensible whole number"};
    return found->get<std::int64_t>();
}

Json parse_bundled(std::string_view text, const std::string& name) {
    const auto not_too_deep = [&name](int depth, Json::parse_event_t, Json&) {
        if (depth > k_deepest)
            throw BadBundle{name + " is nested too deeply"};
        return true;
    };
    try {
        return Json::parse(text, not_too_deep);
    } catch (const Json::exception& error) {
        throw BadBundle{name + ": " + error.what()};
    }
}

std::string shown(const std::string& column, const Value& value) {
    if (const auto* integer = std::get_if<std::int64_t>(&value))
        return column.ends_with("_ms") ? base::to_iso({*integer}) : fmt::format("{}", *integer);
    if (const auto* real = std::get_if<double>(&value))
        return fmt::format("{:.6g}", *real);
    if (const auto* text = std::get_if<std::string>(&value); text != nullptr && !text->empty())
        return *text;
    return "–";
}

} // namespace platewright::ledger
