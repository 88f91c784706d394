#include "plate/thickness/table_text.hpp"

#include "base/text.hpp"

#include <algorithm>
#include <array>

namespace platewright::plate {
namespace {

/// A field in quotation marks may hold separators; the marks themselves are left out.
std::vector<std::string_view> split(std::string_view line, std::string_view separators,
                                    bool keep_empty) {
    std::vector<std::string_view> fields;
    while (true) {
        const auto begin = line.find_first_not_of(' ');
        const bool is_quoted = begin != std::string_view::npos && line[begin] == '"';
        const auto closing = is_quoted ? line.find('"', begin + 1) : std::string_view::npos;
        const auto end =
            line.find_first_of(separators, closing == std::string_view::npos ? 0 : closing + 1);
        auto field = base::trimmed(line.substr(0, end));
        if (closing != std::string_view::npos)
            field = base::trimmed(line.substr(begin + 1, closing - begin - 1));
        if (keep_empty || !field.empty())
            fields.push_back(field);
        if (end == std::string_view::npos)
            return fields;
        line.remove_prefix(end + 1);
    }
}

/// Windows-1252 from 0x80 to 0x9F (Unicode Consortium, CP1252.TXT); the five bytes it leaves open
/// are U+FFFD.
constexpr std::array<std::string_view, 32> k_windows_1252{
    "\u20AC", "\uFFFD", "\u201A", "\u0192", "\u201E", "\u2026", "\u2020", "\u2021",
    "\u02C6", "\u2030", "\u0160", "\u2039", "\u0152", "\uFFFD", "\u017D", "\uFFFD",
    "\uFFFD", "\u2018", "\u2019", "\u201C", "\u201D", "\u2022", "\u2013", "\u2014",
    "\u02DC", "\u2122", "\u0161", "\u203A", "\u0153", "\uFFFD", "\u017E", "\u0178"};

} // namespace

std::vector<std::string_view> fields_of(std::string_view line) {
    if (line.find_first_of(";\t") != std::string_view::npos)
        return split(line, ";\t", true);
    const auto by_blanks = split(line, " ", false);
    if (line.find(',') == std::string_view::npos)
        return by_blanks;
    // "12,5 30,0 2,8": a comma inside every field is a decimal comma
    bool decimal = by_blanks.size() > 1;
    for (const auto& field : by_blanks)
        decimal =
            decimal && !field.empty() && field.back() != ',' && field.front() != ',' &&
            (field.find(',') == std::string_view::npos || base::parse_number(field).has_value());
    return decimal ? by_blanks : split(line, ",", true);
}

std::vector<NumberedLine> lines_of(std::string_view text) {
    std::vector<NumberedLine> lines;
    for (int number = 1; !text.empty(); ++number) {
        const auto end = text.find_first_of("\r\n");
        // Blanks at the end go; a tab or a semicolon before the first field keeps its place.
        const auto whole = text.substr(0, end);
        const auto line = whole.substr(0, whole.find_last_not_of(" \r\n") + 1);
        if (const auto words = base::trimmed(line); !words.empty() && words.front() != '#')
            lines.push_back({number, line.front() == '\t' ? line : words});
        if (end == std::string_view::npos)
            break;
        text.remove_prefix(text.substr(end).starts_with("\r\n") ? end + 2 : end + 1);
    }
    return lines;
}

std::string as_quoted(std::string_view line) {
    const auto begins_letter = [](char c) {
        return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
    };
    std::size_t letters = 0;
    for (std::size_t at = 0; at < line.size(); ++at)
        if (begins_letter(line[at]) && letters++ == k_most_quoted)
            return std::string(line.substr(0, at)) + "\u2026";
    return std::string(line);
}

std::string as_utf8(std::string_view text) {
    std::string plain{text};
    std::ranges::replace_if(
        plain, [](char c) { return static_cast<unsigned char>(c) < 0x20; }, ' ');
    if (base::is_plain_text(plain))
        return std::string{text};
    std::string out;
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        if (byte < 0x80) {
            out += c;
        } else if (byte < 0xA0) {
            out += k_windows_1252[byte - 0x80U];
        } else { // U+00A0 to U+00FF are Latin-1's own numbers
            out += static_cast<char>(0xC0U | (byte >> 6U));
            out += static_cast<char>(0x80U | (byte & 0x3FU));
        }
    }
    return out;
}

} // namespace platewright::plate
