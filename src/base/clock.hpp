#pragma once
#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace platewright::base {

/// A moment of the wall clock, in UTC. It labels records; time inside sound is counted in frames.
struct Timestamp {
    std::int64_t ms_since_epoch = 0;
    auto operator<=>(const Timestamp&) const = default;
};

Timestamp now();

/// "2026-03-14T09:26:53.589Z". Range: years 0000 to 9999.
std::string to_iso(Timestamp moment);

/// Reads what to_iso writes, with or without seconds and milliseconds, or a date alone (its
/// midnight in UTC); an offset such as +05:00 in place of the Z is honoured (ISO 8601). Nothing
/// when all of the text is not just that.
std::optional<Timestamp> from_iso(std::string_view text);

/// What a person typed: "2026-03-14" or "14.3.2026" (day, month, year), and a time where it is
/// known, "2026-03-14 09:26". By the clock on the wall unless Z or an offset follows. A day without
/// a time is its noon: it stays that day wherever it is read within half a day of here.
std::optional<Timestamp> from_typed(std::string_view text);

/// "2026-03-14": the local date, for screens and sheets.
std::string local_date(Timestamp moment);

/// "2026-03-14 09:26": local date and time.
std::string local_date_time(Timestamp moment);

/// Days from 1970-01-01 to here by the local calendar, with the part of the day that has gone: what
/// an axis of days counts in, so that it agrees with local_date.
double local_day(Timestamp moment);

} // namespace platewright::base
