#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace platewright::base {

/// Numbers to and from text, never by the machine's locale. fmt::format without {:L} is locale-free
/// too; std::stod, printf and streams are not.

/// "12.34" with exactly `decimals` digits after the point (0 to 12). "-0.0" is written "0.0".
std::string fixed(double value, int decimals);

/// The same with a sign always, and a true minus sign: "+1.2", "−0.4". For changes shown to people.
std::string signed_fixed(double value, int decimals);

/// What a person typed: blanks around it and a decimal comma are fine. Nothing when it is not
/// wholly one finite number.
std::optional<double> parse_number(std::string_view text);

/// A whole number in plain digits, and nothing else; a minus before it is one.
std::optional<std::int64_t> parse_whole(std::string_view text);

/// The same as parse_number with its unit after it or not: "205,0g", "45 %". Another unit is
/// nothing.
std::optional<double> parse_measure(std::string_view text, std::string_view unit);

/// Whether it is valid UTF-8 without control characters (line breaks and escapes among them).
bool is_plain_text(std::string_view text);

/// Without blanks at both ends.
std::string_view trimmed(std::string_view text);

} // namespace platewright::base
