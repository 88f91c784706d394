#include "main/typed.hpp"

#include "base/text.hpp"

#include <algorithm>

namespace platewright::cli {

std::optional<double> typed_number(const std::string& text, const char* option,
                                   const base::Limits& limits) {
    if (text.empty())
        return std::nullopt;
    const auto value = base::parse_measure(text, limits.unit);
    if (!value || *value < limits.least || *value > limits.most)
        throw CLI::ValidationError(option, fmt::format("“{}” can't be: give {} to {} {}", text,
                                                       limits.least, limits.most, limits.unit));
    return value;
}

std::string typed_label(const std::string& text, const char* option) {
    constexpr std::size_t longest = 200;
    const std::string name{base::trimmed(text)};
    if (name.empty() || name.size() > longest || !base::is_plain_text(name))
        throw CLI::ValidationError(option,
                                   "a name is one to 200 letters of plain text on one line");
    return name;
}

base::Timestamp typed_moment(const std::string& text, const char* option) {
    if (text.empty())
        return base::now();
    const auto when = base::from_typed(text);
    if (!when)
        throw CLI::ValidationError(
            option,
            fmt::format(
                "“{}” is no date: give 2026-03-14, 14.3.2026 or \"2026-03-14 09:26\", by the "
                "clock on your wall unless Z or +01:00 follows",
                text));
    const base::Timestamp now = base::now();
    constexpr std::int64_t k_day_ms = 86'400'000;
    if (when->ms_since_epoch > now.ms_since_epoch + k_day_ms)
        throw CLI::ValidationError(option,
                                   fmt::format("{} is still to come: give the day it was", text));
    return std::min(*when, now); // of today, typed in the morning, the noon is still to come
}

} // namespace platewright::cli
