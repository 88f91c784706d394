#pragma once
#include "base/result.hpp"
#include "screen/sight.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace platewright::screen {

// What stands in a field, and what is taken from it.

std::string shown(std::optional<double> value, int decimals);

/// What was typed as a number within a range; nothing typed is nothing known.
base::Result<std::optional<double>> typed_number(const std::string& typed, std::string_view what,
                                                 double low, double high, const std::string& unit);

/// As many numbers as are wanted, with semicolons or blanks between; empty where they are not.
std::vector<double> typed_numbers(const std::string& typed, std::size_t count);

/// The handbook's woods for a drop-down; the first is none of them, in the words of `none`.
std::vector<std::string> species_names(std::string_view none);
std::size_t species_index(const std::string& key);
/// The key at an index; empty for the first.
std::string species_key(std::size_t index);

} // namespace platewright::screen
