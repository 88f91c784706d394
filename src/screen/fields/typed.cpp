#include "screen/fields/typed.hpp"

#include "base/text.hpp"
#include "plate/thickness/table_text.hpp"
#include "plate/wood/wood.hpp"

namespace platewright::screen {

std::string shown(double value, int decimals) {
    constexpr int k_most =
        4; // a value with more digits was computed, and they are nobody's to read
    for (int digits = decimals; digits <= k_most; ++digits) {
        if (base::parse_number(base::fixed(value, digits)) == value) {
            return figure(value, digits);
        }
    }
    return figure(value, decimals);
}

TypedFigure::TypedFigure(std::optional<double> value, int decimals)
    : text(value ? shown(*value, decimals) : std::string()), value_(value), filled_(text) {}

base::Result<std::optional<double>> TypedFigure::number(std::string_view what,
                                                        const base::Limits& limits) const {
    return is_touched() ? typed_number(text, what, limits)
                        : base::Result<std::optional<double>>(value_);
}

base::Result<std::optional<double>> typed_number(const std::string& typed, std::string_view what,
                                                 const base::Limits& limits, bool may_lack) {
    if (may_lack && base::trimmed(typed).empty()) {
        return std::optional<double>();
    }
    const auto value = base::parse_measure(typed, limits.unit);
    if (value && limits.hold(*value)) {
        return value;
    }
    const std::string least = shown(limits.least, 0), most = shown(limits.most, 0);
    if (may_lack) {
        return base::Fault{say("{} is a number from {} to {} {}, or left empty; \u201c{}\u201d is "
                               "not.",
                               what, least, most, limits.unit, typed)};
    }
    const std::string with_unit = most + (*limits.unit == '\0' ? "" : " ") + limits.unit;
    return base::Fault{
        say("{} is a number from {} to {}; \u201c{}\u201d is not.", what, least, with_unit, typed)};
}

std::vector<double> typed_numbers(const std::string& typed, std::size_t count) {
    std::vector<double> out;
    for (const auto& word : plate::fields_of(typed)) {
        if (const auto value = base::parse_number(word)) {
            out.push_back(*value);
        }
    }
    return out.size() == count ? out : std::vector<double>{};
}

std::vector<std::string> species_names(std::string_view none) {
    std::vector<std::string> names{std::string(none)};
    for (const plate::Species& species : plate::species_table()) {
        names.emplace_back(say(species.name));
    }
    return names;
}

std::size_t species_index(const std::string& key) {
    const auto& table = plate::species_table();
    for (std::size_t i = 0; i < table.size(); ++i) {
        if (table.at(i).key == key) {
            return i + 1;
        }
    }
    return 0;
}

std::string species_key(std::size_t index) {
    return index == 0 ? std::string() : std::string(plate::species_table().at(index - 1).key);
}

} // namespace platewright::screen
