#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace platewright::base {

/// A code point at the beginning of a text, and the bytes it takes.
struct Letter {
    char32_t code = 0;
    std::size_t bytes = 0;
};

/// The first letter, by RFC 3629 to the letter: no surrogates, no overlong forms, nothing beyond
/// U+10FFFF. Nothing where the text does not begin with one, or is empty.
std::optional<Letter> first_letter(std::string_view text);

/// Whether it is UTF-8 throughout.
bool is_utf8(std::string_view text);

/// Letters that are not seen but act, on a terminal or on the text around them: controls (C0, C1,
/// DEL; Unicode general category Cc), and of the formatting letters (Cf) those that turn direction
/// (Unicode Standard Annex #9), take no width, or tag. The two joiners (U+200C, U+200D) are none:
/// words of several scripts need them.
bool acts_unseen(char32_t code);

enum class Lines { join, keep }; ///< whether line breaks and tabs may stand in a text

/// Whether it is UTF-8 and holds no letter that acts unseen.
bool is_harmless(std::string_view text, Lines lines);

/// The text with U+FFFD (replacement character) in place of every byte that is no UTF-8 and every
/// letter that acts unseen.
std::string harmless(std::string_view text, Lines lines = Lines::join);

} // namespace platewright::base
