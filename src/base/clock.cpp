#include "base/clock.hpp"

#include <chrono>
#include <ctime>
#include <fmt/format.h>

#include "base/text.hpp"

namespace platewright::base {
namespace {

namespace ch = std::chrono;
using Millis = ch::sys_time<ch::milliseconds>;

Millis as_time(Timestamp moment) { return Millis{ch::milliseconds{moment.ms_since_epoch}}; }

std::tm local_parts(Timestamp moment) {
    const std::time_t seconds = ch::floor<ch::seconds>(as_time(moment)).time_since_epoch().count();
    std::tm parts{};
    localtime_r(&seconds, &parts);
    return parts;
}

std::optional<int> digits(std::string_view text, std::size_t at, std::size_t count) {
    if (text.size() < at + count)
        return std::nullopt;
    int value = 0;
    for (const char c : text.substr(at, count)) {
        if (c < '0' || c > '9')
            return std::nullopt;
        value = value * 10 + (c - '0');
    }
    return value;
}

} // namespace

Timestamp now() {
    return {ch::duration_cast<ch::milliseconds>(ch::system_clock::now().time_since_epoch()).count()};
}

std::string to_iso(Timestamp moment) {
    const Millis time = as_time(moment);
    const auto day = ch::floor<ch::days>(time);
    const ch::year_month_day date{day};
    const ch::hh_mm_ss clock{time - day};
    return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}.{:03}Z", int{date.year()},
                       unsigned{date.month()}, unsigned{date.day()}, clock.hours().count(),
                       clock.minutes().count(), clock.seconds().count(), clock.subseconds().count());
}

std::optional<Timestamp> from_iso(std::string_view text) {
    text = trimmed(text);
    const auto year = digits(text, 0, 4), month = digits(text, 5, 2), day = digits(text, 8, 2);
    if (!year || !month || !day || text[4] != '-' || text[7] != '-')
        return std::nullopt;
    const ch::year_month_day date{ch::year{*year}, ch::month{static_cast<unsigned>(*month)},
                                  ch::day{static_cast<unsigned>(*day)}};
    if (!date.ok())
        return std::nullopt;
    ch::milliseconds clock{0};
    if (text.size() > 10) {
        const auto hour = digits(text, 11, 2), minute = digits(text, 14, 2);
        const auto second = text.size() > 17 ? digits(text, 17, 2) : 0;
        const auto milli = text.size() > 20 && text[19] == '.' ? digits(text, 20, 3) : 0;
        if ((text[10] != 'T' && text[10] != ' ') || !hour || !minute || !second || !milli ||
            *hour > 23 || *minute > 59 || *second > 60)
            return std::nullopt;
        clock = ch::hours{*hour} + ch::minutes{*minute} + ch::seconds{*second} + ch::milliseconds{*milli};
    }
    return Timestamp{(ch::sys_days{date}.time_since_epoch() + clock).count()};
}

std::string local_date(Timestamp moment) {
    const std::tm parts = local_parts(moment);
    return fmt::format("{:04}-{:02}-{:02}", parts.tm_year + 1900, parts.tm_mon + 1, parts.tm_mday);
}

std::string local_date_time(Timestamp moment) {
    const std::tm parts = local_parts(moment);
    return fmt::format("{} {:02}:{:02}", local_date(moment), parts.tm_hour, parts.tm_min);
}

} // namespace platewright::base
