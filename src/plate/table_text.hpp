#pragma once
/// Lines of a table as people paste them.

#include <string_view>
#include <vector>

namespace platewright::plate {

/// The fields of one line. Semicolons or tabs part them where there are any (a comma is then a
/// decimal comma), else commas, else blanks. Fields come without blanks round them.
std::vector<std::string_view> fields_of(std::string_view line);

/// The lines of a text, without line ends; empty ones and those that begin with # are left out.
struct NumberedLine {
    int number = 0; // from 1
    std::string_view text;
};
std::vector<NumberedLine> lines_of(std::string_view text);

} // namespace platewright::plate
