#pragma once
#include "base/clock.hpp"
#include "taps/spot.hpp"
#include "taps/verdict.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace platewright::ledger {

/// What a recording's comment says of its tap: enough to put the tap back where a database was
/// lost.
struct TapLabel {
    std::string session_uid; ///< of the session, or of the test of wood, that it belongs to
    base::Timestamp at;
    std::int64_t onset_frame = 0;
    std::int64_t onset_index = 0;
    taps::Spot spot = taps::Spot::unknown;
    taps::Verdict verdict = taps::Verdict::accepted;
    std::string facts =
        {}; ///< JSON of what it belongs to (Witness::facts_of_tap); empty in old recordings
};

/// "platewright tap; session …; at …; onset frame …; onset index …; spot …; verdict …; facts {…}"
std::string to_text(const TapLabel& label);

/// Reads what to_text writes; nothing when it is not one.
std::optional<TapLabel> label_from_text(std::string_view text);

} // namespace platewright::ledger
