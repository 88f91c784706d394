#pragma once
#include "base/clock.hpp"
#include "base/limits.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>
#include <optional>
#include <string>

namespace platewright::cli {

/// What was typed after an option, checked. Each throws CLI::ValidationError with a sentence.

/// Nothing where nothing was typed; a decimal comma and the unit after it are fine.
std::optional<double> typed_number(const std::string& text, const char* option,
                                   const base::Limits& limits);
/// A name that can be read back, typed and printed.
std::string typed_label(const std::string& text, const char* option);
/// A day, or a day and time by the clock on the wall (base::from_typed), that is not still to come;
/// now where nothing was typed.
base::Timestamp typed_moment(const std::string& text, const char* option);

template <class T>
T typed_word(std::optional<T> value, const char* option, const std::string& text,
             const char* words) {
    if (!value)
        throw CLI::ValidationError(option, fmt::format("“{}” is none of {}", text, words));
    return *value;
}

} // namespace platewright::cli
