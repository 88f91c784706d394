#pragma once
#include "wording/language.hpp"
#include "wording/row.hpp"

#include <fmt/core.h>
#include <string>
#include <string_view>

namespace platewright::wording {

// A view names what it says by the catalogue's English. The catalogue itself stays out of this
// header, which nearly every file reads: a new text would compile the whole house anew. That each
// text said is in the catalogue is held by tests/house/wording.py; that its fields are as many as
// the values, here.

/// A text of the catalogue with N fields.
template <std::size_t N>
class Pattern {
public:
    consteval Pattern(const char* english) : english_(english) {
        if (fields_of(english_).count != N) {
            throw "another number of fields than values";
        }
    }
    constexpr std::string_view english() const { return english_; }

private:
    std::string_view english_;
};

/// One without.
using Phrase = Pattern<0>;

/// The catalogue's text in the language of now; the English itself where the catalogue has none.
/// Cost: a look-up by hash where that is not English.
std::string_view in_language(std::string_view english);
std::string filled(std::string_view english, fmt::format_args values);

/// A text without fields: a view that holds as long as the program runs, and a string of its own
/// for whoever keeps one.
struct Said : std::string_view {
    explicit Said(std::string_view text) : std::string_view(text) {}
    operator std::string() const { return {data(), size()}; }
};

/// What a person reads, in the language of now. Numbers with decimals are given as `figure`.
/// Threads: any. Cost: a look-up without fields, one string with.
inline Said say(Phrase phrase) { return Said(in_language(phrase.english())); }

template <class... Values>
requires(sizeof...(Values) > 0) std::string
    say(Pattern<sizeof...(Values)> pattern, const Values&... values) {
    return filled(pattern.english(), fmt::make_format_args(values...));
}

/// So many of something; the number is the first field of both. One and not one: the forms of whole
/// numbers in English, German and Italian (Unicode CLDR, plural rules).
template <class... Values>
std::string say_count(std::int64_t count, Pattern<sizeof...(Values) + 1> one,
                      Pattern<sizeof...(Values) + 1> more, const Values&... values) {
    return filled(count == 1 ? one.english() : more.english(),
                  fmt::make_format_args(count, values...));
}

} // namespace platewright::wording
