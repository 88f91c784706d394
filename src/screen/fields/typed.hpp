#pragma once
#include "base/limits.hpp"
#include "base/result.hpp"
#include "screen/view_context.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace platewright::screen {

// What stands in a field, and what is taken from it.

/// What a form gives, or why it can't, and the label of the field that is at fault; empty: none in
/// particular.
template <class T>
struct [[nodiscard]] Filled : base::Result<T> {
    Filled(T value) : base::Result<T>(std::move(value)) {}
    Filled(base::Fault fault, std::string_view field = {})
        : base::Result<T>(std::move(fault)), at(field) {}
    std::string at;
};

/// A number in a field. Untouched it stands for the value it was filled with, to the last digit and
/// whatever its range; so a form that is saved as it came changes nothing.
class TypedFigure {
public:
    TypedFigure() = default;
    /// Shown with at least so many decimals, with more where the value was given with more.
    TypedFigure(std::optional<double> value, int decimals);

    std::string text; ///< as it stands in the field

    bool is_touched() const { return text != filled_; }
    /// What it was filled with.
    const std::optional<double>& filled() const { return value_; }
    /// As typed_number gives it.
    base::Result<std::optional<double>> number(std::string_view what,
                                               const base::Limits& limits) const;

private:
    std::optional<double> value_;
    std::string filled_; // its text as it was filled
};

/// The text that a field is filled with: the value with at least so many decimals.
std::string shown(double value, int decimals);

/// What was typed as a number within a range, its unit after it or not; nothing typed is nothing
/// known, or a fault where something must be.
base::Result<std::optional<double>> typed_number(const std::string& typed, std::string_view what,
                                                 const base::Limits& limits, bool may_lack = true);

/// As many numbers as are wanted, with semicolons or blanks between; empty where they are not.
std::vector<double> typed_numbers(const std::string& typed, std::size_t count);

/// The handbook's woods for a drop-down; the first is none of them, in the words of `none`.
std::vector<std::string> species_names(std::string_view none);
std::size_t species_index(const std::string& key);
/// The key at an index; empty for the first.
std::string species_key(std::size_t index);

} // namespace platewright::screen
