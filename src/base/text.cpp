#include "base/text.hpp"

#include "base/utf8.hpp"

#include <charconv>
#include <cmath>
#include <fmt/format.h>

namespace platewright::base {

std::string fixed(double value, int decimals) {
    std::string text = fmt::format("{:.{}f}", value, decimals);
    if (text.starts_with('-') && text.find_first_of("123456789") == std::string::npos &&
        std::isfinite(value))
        text.erase(0, 1);
    return text;
}

std::string signed_fixed(double value, int decimals) {
    std::string text = fixed(value, decimals);
    if (text.starts_with('-'))
        return "\u2212" + text.substr(1);
    return "+" + text;
}

std::optional<double> parse_number(std::string_view text) {
    std::string plain{trimmed(text)};
    if (const auto comma = plain.find(','); comma != std::string::npos)
        plain[comma] = '.';
    if (plain.starts_with('+'))
        plain.erase(0, 1);
    double value = 0;
    const auto [end, error] = std::from_chars(plain.data(), plain.data() + plain.size(), value);
    if (error != std::errc{} || end != plain.data() + plain.size() || !std::isfinite(value))
        return std::nullopt;
    return value;
}

std::optional<std::int64_t> parse_whole(std::string_view text) {
    std::int64_t value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    return error == std::errc{} && end == text.data() + text.size() ? std::optional{value}
                                                                    : std::nullopt;
}

std::optional<double> parse_measure(std::string_view text, std::string_view unit) {
    text = trimmed(text);
    const auto plain = [](std::string_view written) { // as keyboards have it
        return written == "\u00b0C"      ? std::string_view("C")
               : written == "kg/m\u00b3" ? std::string_view("kg/m3")
                                         : written;
    };
    for (const std::string_view spelt : {unit, plain(unit)})
        if (!spelt.empty() && text.ends_with(spelt))
            return parse_number(text.substr(0, text.size() - spelt.size()));
    return parse_number(text);
}

bool is_plain_text(std::string_view text) { return is_harmless(text, Lines::join); }

std::string_view trimmed(std::string_view text) {
    constexpr std::string_view blanks = " \t\r\n";
    const auto first = text.find_first_not_of(blanks);
    if (first == std::string_view::npos)
        return {};
    return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

} // namespace platewright::base
