#pragma once
/// Lines of a table as people paste them.

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace platewright::plate {

/// So many lines of words may stand before a table: what it is of, who measured when, heads, units.
inline constexpr std::size_t k_most_headlines = 6;

/// The fields of one line. Semicolons or tabs part them where there are any (a comma is then a
/// decimal comma), else commas, else blanks. Fields come without blanks round them, and without the
/// quotation marks in which a spreadsheet puts one that holds a separator.
std::vector<std::string_view> fields_of(std::string_view line);

/// The lines of a text, without line ends (LF, CR LF, or CR alone); empty ones and those that begin
/// with # are left out.
struct NumberedLine {
    int number = 0; // from 1
    std::string_view text;
};
std::vector<NumberedLine> lines_of(std::string_view text);

/// As a complaint quotes it: so many letters at the most, then an ellipsis. UTF-8.
inline constexpr std::size_t k_most_quoted = 40;
std::string as_quoted(std::string_view line);

/// A file's text as UTF-8. What is none is taken for Windows-1252, as older spreadsheets write it:
/// Latin-1 (ISO 8859-1), with dashes, quotation marks and the like where that has controls.
std::string as_utf8(std::string_view text);

} // namespace platewright::plate
