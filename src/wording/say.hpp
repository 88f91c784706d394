#pragma once
#include "wording/catalogue.hpp"
#include "wording/language.hpp"

#include <fmt/format.h>

#include <string>
#include <string_view>

namespace platewright::wording {

/// A text of the catalogue, found while compiling: one that is not there does not compile.
class Phrase {
public:
    consteval Phrase(const char* english) : row_(&row_of(english)) {
        if (fields_of(row_->english).count != 0) {
            throw "this text has fields: give their values";
        }
    }
    constexpr const Row& row() const { return *row_; }

private:
    const Row* row_;
};

/// The same with N fields.
template <std::size_t N> class Pattern {
public:
    consteval Pattern(const char* english) : row_(&row_of(english)) {
        if (fields_of(row_->english).count != N) {
            throw "another number of fields than values";
        }
    }
    constexpr const Row& row() const { return *row_; }

private:
    const Row* row_;
};

/// The row's text in the language of now.
std::string_view in_language(const Row& row);
std::string filled(const Row& row, fmt::format_args values);

/// What a person reads, in the language of now. Numbers with decimals are given as `figure`.
/// Threads: any. Cost: none without fields, one string with.
inline std::string_view say(Phrase phrase) { return in_language(phrase.row()); }

template <class... Values>
    requires(sizeof...(Values) > 0)
std::string say(Pattern<sizeof...(Values)> pattern, const Values&... values) {
    return filled(pattern.row(), fmt::make_format_args(values...));
}

/// So many of something; the number is the first field of both. One and not one: the forms of whole
/// numbers in English, German and Italian (Unicode CLDR, plural rules).
template <class... Values>
std::string say_count(std::int64_t count, Pattern<sizeof...(Values) + 1> one,
                      Pattern<sizeof...(Values) + 1> more, const Values&... values) {
    return filled(count == 1 ? one.row() : more.row(), fmt::make_format_args(count, values...));
}

} // namespace platewright::wording
