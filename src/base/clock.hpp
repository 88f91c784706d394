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

/// Reads what to_iso writes, with or without milliseconds, or a date alone. Nothing when it is not one.
std::optional<Timestamp> from_iso(std::string_view text);

/// "2026-03-14": the local date, for screens and sheets.
std::string local_date(Timestamp moment);

/// "2026-03-14 09:26": local date and time.
std::string local_date_time(Timestamp moment);

} // namespace platewright::base
