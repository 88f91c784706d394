#include "ledger/bundle/bundle_values.hpp"

#include "base/clock.hpp"
#include "base/utf8.hpp"
#include "ledger/tables/unfit.hpp"

#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

namespace platewright::ledger {
namespace {

using Json = nlohmann::ordered_json;

constexpr double k_greatest_integer = 9007199254740992.0; // 2^53: what any JSON reader can hold
constexpr double k_year_0_ms = -62167219200e3, k_year_9999_ms = 253402300799e3;
constexpr int k_deepest = 24;
// Twenty thousand taps of twenty partials, and as much again; each takes some 300 bytes of memory.
constexpr std::size_t k_most_objects = 1'000'000, k_most_values = 12'000'000,
                      k_objects_between_questions = 4096;

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

/// Walks through a text once and keeps nothing of it: how deep it is, and how much is in it. (A
/// parser that asks of each value whether to keep it looks through all of a list after each of its
/// rows.)
class Measure : public nlohmann::json_sax<Json> {
public:
    Measure(std::string name, const std::function<bool()>& go_on)
        : name_{std::move(name)}, go_on_{go_on} {}

    bool null() override { return value(); }
    bool boolean(bool) override { return value(); }
    bool number_integer(number_integer_t) override { return value(); }
    bool number_unsigned(number_unsigned_t) override { return value(); }
    bool number_float(number_float_t, const string_t&) override { return value(); }
    bool string(string_t&) override { return value(); }
    bool binary(binary_t&) override { return value(); }
    bool key(string_t&) override { return true; }
    bool start_object(std::size_t) override {
        if (++objects_ > k_most_objects)
            throw BadBundle{name_ + " has more rows than any instrument"};
        if (objects_ % k_objects_between_questions == 0 && go_on_ && !go_on_())
            throw BadBundle{name_ + ": stopped"};
        return deeper();
    }
    bool start_array(std::size_t) override { return deeper(); }
    bool end_object() override { return --depth_, true; }
    bool end_array() override { return --depth_, true; }
    bool parse_error(std::size_t, const std::string&,
                     const nlohmann::detail::exception& error) override {
        throw BadBundle{name_ + ": " + error.what()};
    }

private:
    bool value() {
        if (++values_ > k_most_values)
            throw BadBundle{name_ + " has more figures than any instrument"};
        return true;
    }
    bool deeper() {
        if (++depth_ > k_deepest)
            throw BadBundle{name_ + " is nested too deeply"};
        return value();
    }

    std::string name_;
    const std::function<bool()>& go_on_;
    int depth_ = 0;
    std::size_t objects_ = 0, values_ = 0;
};

} // namespace

bool is_hex(std::string_view text, std::size_t length) {
    return text.size() == length && std::ranges::all_of(text, [](char c) {
               return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f');
           });
}

StrangeWord::StrangeWord(std::string_view column, std::string_view said)
    : BadBundle{fmt::format("{} is “{}”", column, said)}, word{base::harmless(said)} {}

Value checked_value(const TableShape& table, const TableShape::Column& column, const Json& row) {
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
        if (!is_known_word(table.table.name, column.name, text))
            throw StrangeWord{column.name, text};
        return base::harmless(text, base::Lines::keep);
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

Json parse_bundled(std::string_view text, const std::string& name,
                   const std::function<bool()>& go_on) {
    try {
        Measure measure{name, go_on};
        Json::sax_parse(text, &measure);
        return Json::parse(text);
    } catch (const Json::exception& error) {
        throw BadBundle{name + ": " + error.what()};
    }
}

Json content_of(const Json& tree) {
    if (tree.is_array()) {
        Json out = Json::array();
        for (const Json& one : tree)
            out.push_back(content_of(one));
        return out;
    }
    if (!tree.is_object())
        return tree;
    Json out = Json::object();
    for (const auto& [key, value] : tree.items())
        if (!value.is_null() && key != "made_ms")
            out[key] = content_of(value);
    return out;
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
