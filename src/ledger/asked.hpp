#pragma once
#include "base/limits.hpp"

#include <algorithm>
#include <string_view>

namespace platewright::ledger {

/// What a maker types or chooses for a field of words; figures and words of enums tell by their
/// type.
enum class Takes {
    text,
    name,    ///< one line that is looked for later
    notes,   ///< several lines
    species, ///< a key of plate::species_table()
    pieces,  ///< of a truth: 1 or 2; so JSON and tables show it
};

/// How a maker is asked for a field: what forms (screen/fields/record_fields.hpp) and options of
/// the command line (main/field_options.hpp) are made of.
struct Asked {
    constexpr bool is_any() const { return !label.empty() || !option.empty(); }
    std::string_view label; ///< above it in a form, English of wording/; empty: no form asks for it
    /// Likewise, in a sentence: "The mass"; empty: as the label. Of a name: what is said where
    /// there is none; of a species: the choice of none.
    std::string_view what;
    std::string_view option; ///< "mass=G": its name and kind; empty: none. Figures of one option
                             ///< are typed with a colon between, and the first has kind and help
    std::string_view help;   ///< of the command line, which is English
    base::Limits limits{};
    int decimals = 0;   ///< that a form shows at least
    double times = 1.0; ///< of the field, what is typed: 100 for per cent of a share
    Takes takes = Takes::text;

    constexpr std::string_view option_name() const { return option.substr(0, option.find('=')); }
    constexpr std::string_view option_kind() const {
        return option.substr(std::min(option_name().size() + 1, option.size()));
    }
};

constexpr Asked asked_figure(std::string_view label, std::string_view what, std::string_view option,
                             std::string_view help, const base::Limits& limits, int decimals = 0,
                             double times = 1.0) {
    return {label, what, option, help, limits, decimals, times};
}
constexpr Asked asked(std::string_view label, std::string_view what, std::string_view option,
                      std::string_view help, Takes takes = Takes::text) {
    return {.label = label, .what = what, .option = option, .help = help, .takes = takes};
}

} // namespace platewright::ledger
