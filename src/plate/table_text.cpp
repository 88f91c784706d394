#include "plate/table_text.hpp"

#include "base/text.hpp"

namespace platewright::plate {
namespace {

std::vector<std::string_view> split(std::string_view line, std::string_view separators,
                                    bool keep_empty) {
    std::vector<std::string_view> fields;
    while (true) {
        const auto end = line.find_first_of(separators);
        const auto field = base::trimmed(line.substr(0, end));
        if (keep_empty || !field.empty())
            fields.push_back(field);
        if (end == std::string_view::npos)
            return fields;
        line.remove_prefix(end + 1);
    }
}

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
            decimal && field.back() != ',' && field.front() != ',' &&
            (field.find(',') == std::string_view::npos || base::parse_number(field).has_value());
    return decimal ? by_blanks : split(line, ",", true);
}

std::vector<NumberedLine> lines_of(std::string_view text) {
    std::vector<NumberedLine> lines;
    for (int number = 1; !text.empty(); ++number) {
        const auto end = text.find('\n');
        const auto line = base::trimmed(text.substr(0, end));
        if (!line.empty() && line.front() != '#')
            lines.push_back({number, line});
        if (end == std::string_view::npos)
            break;
        text.remove_prefix(end + 1);
    }
    return lines;
}

} // namespace platewright::plate
