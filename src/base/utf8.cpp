#include "base/utf8.hpp"

#include <algorithm>
#include <array>

namespace platewright::base {
namespace {

struct Range {
    char32_t first, last;
};
constexpr std::array k_unseen{
    Range{0x00, 0x1F},     Range{0x7F, 0x9F},     Range{0x61C, 0x61C},     Range{0x180E, 0x180E},
    Range{0x200B, 0x200B}, Range{0x200E, 0x200F}, Range{0x2028, 0x202E},   Range{0x2060, 0x206F},
    Range{0xFEFF, 0xFEFF}, Range{0xFFF9, 0xFFFB}, Range{0x1D173, 0x1D17A}, Range{0xE0000, 0xE007F},
};

bool breaks_lines(char32_t code) { return code == '\n' || code == '\r' || code == '\t'; }

/// What a leading byte says of its letter.
struct Lead {
    std::size_t bytes;
    unsigned bits;
    char32_t least; ///< smaller ones have a shorter form
};
std::optional<Lead> lead_of(unsigned char byte) {
    if (byte < 0x80)
        return Lead{1, byte, 0};
    if (byte >= 0xC2 && byte < 0xE0)
        return Lead{2, byte & 0x1FU, 0x80};
    if (byte >= 0xE0 && byte < 0xF0)
        return Lead{3, byte & 0x0FU, 0x800};
    if (byte >= 0xF0 && byte < 0xF5)
        return Lead{4, byte & 0x07U, 0x10000};
    return std::nullopt;
}

} // namespace

std::optional<Letter> first_letter(std::string_view text) {
    const auto lead = text.empty() ? std::nullopt : lead_of(static_cast<unsigned char>(text[0]));
    if (!lead || text.size() < lead->bytes)
        return std::nullopt;
    char32_t code = lead->bits;
    for (std::size_t i = 1; i < lead->bytes; ++i) {
        const auto byte = static_cast<unsigned char>(text[i]);
        if ((byte & 0xC0U) != 0x80)
            return std::nullopt;
        code = (code << 6U) | (byte & 0x3FU);
    }
    const bool is_surrogate = code >= 0xD800 && code <= 0xDFFF;
    if (code < lead->least || code > 0x10FFFF || is_surrogate)
        return std::nullopt;
    return Letter{code, lead->bytes};
}

bool is_utf8(std::string_view text) {
    while (!text.empty()) {
        const auto letter = first_letter(text);
        if (!letter)
            return false;
        text.remove_prefix(letter->bytes);
    }
    return true;
}

bool acts_unseen(char32_t code) {
    return std::ranges::any_of(
        k_unseen, [code](const Range& range) { return code >= range.first && code <= range.last; });
}

bool is_harmless(std::string_view text, Lines lines) {
    while (!text.empty()) {
        const auto letter = first_letter(text);
        if (!letter ||
            (acts_unseen(letter->code) && !(lines == Lines::keep && breaks_lines(letter->code))))
            return false;
        text.remove_prefix(letter->bytes);
    }
    return true;
}

std::string harmless(std::string_view text, Lines lines) {
    if (is_harmless(text, lines))
        return std::string{text};
    std::string out;
    while (!text.empty()) {
        const auto letter = first_letter(text);
        const std::size_t bytes = letter ? letter->bytes : 1;
        if (is_harmless(text.substr(0, bytes), lines))
            out += text.substr(0, bytes);
        else
            out += "\uFFFD";
        text.remove_prefix(bytes);
    }
    return out;
}

} // namespace platewright::base
