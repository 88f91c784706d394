#pragma once
#include <algorithm>
#include <array>
#include <optional>
#include <string_view>

namespace platewright::base {

/// A value of an enum, the word that files and JSON carry for it, and what a person reads.
template <class T, class Text>
struct Word {
    T value;
    std::string_view word;
    Text text;
};

/// The row of a value; the table must hold every value of its enum.
template <class T, class Text, std::size_t N>
constexpr const Word<T, Text>& row_of(const std::array<Word<T, Text>, N>& table, T value) {
    return *std::find_if(table.begin(), table.end(),
                         [&](const auto& row) { return row.value == value; });
}

/// The value of a word; nothing when the table does not know it.
template <class T, class Text, std::size_t N>
constexpr std::optional<T> value_of(const std::array<Word<T, Text>, N>& table,
                                    std::string_view word) {
    for (const auto& row : table)
        if (row.word == word)
            return row.value;
    return std::nullopt;
}

} // namespace platewright::base
