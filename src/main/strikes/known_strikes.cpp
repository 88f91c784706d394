#include "main/strikes/known_strikes.hpp"

namespace platewright::cli {
namespace {

/// Of a kept tap or one just heard.
template <class AnyTap>
KnownStrikes::Mark mark_of(const AnyTap& tap) {
    return {tap.sample_rate_hz, tap.onset_frame, tap.peak_dbfs, tap.noise_dbfs};
}

} // namespace

void KnownStrikes::add(const std::vector<ledger::TapRecord>& taps, base::Timestamp begun) {
    for (const ledger::TapRecord& tap : taps)
        known_.emplace(mark_of(tap), begun);
}

bool KnownStrikes::has(const taps::Tap& tap, base::Timestamp begun) {
    const auto [known, is_new] = known_.emplace(mark_of(tap), begun);
    if (is_new)
        return false;
    ++met_;
    day_ = base::local_date(known->second);
    return true;
}

} // namespace platewright::cli
