#include "base/clock.hpp"

#include "base/text.hpp"

#include <algorithm>
#include <chrono>
#include <ctime>
#include <fmt/format.h>

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

/// A date, and a time where one stands there, as they were written.
struct Written {
    ch::year_month_day date{};
    std::optional<ch::milliseconds> clock;
    std::optional<ch::minutes> ahead_of_utc; // nothing: not said
};

/// Reads what was written from its front; what does not fit leaves `good` false.
class Reader {
public:
    explicit Reader(std::string_view text) : rest_(text) {}

    bool takes(char c) {
        if (!rest_.starts_with(c))
            return false;
        rest_.remove_prefix(1);
        return true;
    }
    void needs(char c) { good_ = takes(c) && good_; }
    void blanks() { rest_.remove_prefix(std::min(rest_.find_first_not_of(' '), rest_.size())); }
    int number(std::size_t least, std::size_t most, int highest) {
        int value = 0;
        std::size_t count = 0;
        for (; count < most && !rest_.empty() && rest_.front() >= '0' && rest_.front() <= '9';
             ++count) {
            value = value * 10 + (rest_.front() - '0');
            rest_.remove_prefix(1);
        }
        good_ = good_ && count >= least && value <= highest;
        return value;
    }
    std::size_t length_of_number() const {
        return std::min(rest_.find_first_not_of("0123456789"), rest_.size());
    }
    bool ended() const { return rest_.empty(); }
    bool good() const { return good_; }

private:
    std::string_view rest_;
    bool good_ = true;
};

ch::year_month_day read_date(Reader& reader, bool by_hand) {
    if (by_hand && reader.length_of_number() < 4) { // day, month, year with dots between
        const int day = reader.number(1, 2, 31);
        reader.needs('.'), reader.blanks();
        const int month = reader.number(1, 2, 12);
        reader.needs('.'), reader.blanks();
        const int year = reader.number(4, 4, 9999);
        return {ch::year{year}, ch::month{static_cast<unsigned>(month)},
                ch::day{static_cast<unsigned>(day)}};
    }
    const int year = reader.number(4, 4, 9999);
    reader.needs('-');
    const int month = reader.number(2, 2, 12);
    reader.needs('-');
    const int day = reader.number(2, 2, 31);
    return {ch::year{year}, ch::month{static_cast<unsigned>(month)},
            ch::day{static_cast<unsigned>(day)}};
}

ch::milliseconds read_clock(Reader& reader) {
    ch::milliseconds clock = ch::hours{reader.number(2, 2, 23)};
    reader.needs(':');
    clock += ch::minutes{reader.number(2, 2, 59)};
    if (reader.takes(':'))
        clock += ch::seconds{reader.number(2, 2, 60)}; // 60: a leap second
    if (reader.takes('.'))
        clock += ch::milliseconds{reader.number(3, 3, 999)};
    return clock;
}

/// "Z", "+05:00", "-0330", or nothing.
std::optional<ch::minutes> read_zone(Reader& reader) {
    if (reader.takes('Z'))
        return ch::minutes{0};
    const bool west = reader.takes('-');
    if (!west && !reader.takes('+'))
        return std::nullopt;
    ch::minutes ahead = ch::hours{reader.number(2, 2, 14)};
    reader.takes(':');
    ahead += ch::minutes{reader.number(2, 2, 59)};
    return west ? -ahead : ahead;
}

std::optional<Written> read_moment(std::string_view text, bool by_hand) {
    Reader reader{trimmed(text)};
    Written out;
    out.date = read_date(reader, by_hand);
    if (reader.good() && !reader.ended()) {
        if (!reader.takes('T'))
            reader.needs(' ');
        out.clock = read_clock(reader);
        if (by_hand)
            reader.blanks();
        out.ahead_of_utc = read_zone(reader);
    }
    return reader.good() && reader.ended() && out.date.ok() ? std::optional{out} : std::nullopt;
}

Timestamp in_utc(const ch::year_month_day& date, ch::milliseconds clock) {
    return {(ch::sys_days{date}.time_since_epoch() + clock).count()};
}

/// A time of the local calendar. What a clock set forward leaves out becomes the hour after.
Timestamp in_local(const ch::year_month_day& date, ch::milliseconds clock) {
    const auto whole = ch::floor<ch::seconds>(clock);
    std::tm parts{};
    parts.tm_year = int{date.year()} - 1900;
    parts.tm_mon = static_cast<int>(unsigned{date.month()}) - 1;
    parts.tm_mday = static_cast<int>(unsigned{date.day()});
    parts.tm_sec = static_cast<int>(whole.count());
    parts.tm_isdst = -1;
    // Seconds alone would count from midnight through a change of clocks.
    parts.tm_hour = parts.tm_sec / 3600;
    parts.tm_min = parts.tm_sec / 60 % 60;
    parts.tm_sec %= 60;
    return {std::int64_t{std::mktime(&parts)} * 1000 + (clock - whole).count()};
}

} // namespace

Timestamp now() {
    return {
        ch::duration_cast<ch::milliseconds>(ch::system_clock::now().time_since_epoch()).count()};
}

std::string to_iso(Timestamp moment) {
    const Millis time = as_time(moment);
    const auto day = ch::floor<ch::days>(time);
    const ch::year_month_day date{day};
    const ch::hh_mm_ss clock{time - day};
    return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}.{:03}Z", int{date.year()},
                       unsigned{date.month()}, unsigned{date.day()}, clock.hours().count(),
                       clock.minutes().count(), clock.seconds().count(),
                       clock.subseconds().count());
}

std::optional<Timestamp> from_iso(std::string_view text) {
    const auto written = read_moment(text, false);
    if (!written)
        return std::nullopt;
    const Timestamp moment = in_utc(written->date, written->clock.value_or(ch::milliseconds{0}));
    const ch::milliseconds ahead = written->ahead_of_utc.value_or(ch::minutes{0});
    return Timestamp{moment.ms_since_epoch - ahead.count()};
}

std::optional<Timestamp> from_typed(std::string_view text) {
    const auto written = read_moment(text, true);
    if (!written)
        return std::nullopt;
    if (written->ahead_of_utc) {
        const ch::milliseconds ahead = *written->ahead_of_utc;
        return Timestamp{in_utc(written->date, *written->clock).ms_since_epoch - ahead.count()};
    }
    return in_local(written->date, written->clock.value_or(ch::hours{12}));
}

double local_day(Timestamp moment) {
    const std::tm parts = local_parts(moment);
    const ch::sys_days day = ch::year{parts.tm_year + 1900} / (parts.tm_mon + 1) / parts.tm_mday;
    const double hours = parts.tm_hour + parts.tm_min / 60.0 + parts.tm_sec / 3600.0;
    return static_cast<double>(day.time_since_epoch().count()) + hours / 24.0;
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
