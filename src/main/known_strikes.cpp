#include "main/known_strikes.hpp"

#include <algorithm>

namespace platewright::cli {

void KnownStrikes::add(const std::vector<ledger::TapRecord>& taps, base::Timestamp begun) {
    for (const ledger::TapRecord& tap : taps)
        known_.push_back({tap.sample_rate_hz, tap.onset_frame, tap.peak_dbfs, tap.noise_dbfs, begun});
}

bool KnownStrikes::has(const taps::Tap& tap, base::Timestamp begun) {
    const auto same = std::ranges::find_if(known_, [&](const Strike& one) {
        return one.rate_hz == tap.sample_rate_hz && one.onset_frame == tap.onset_frame && one.peak_dbfs == tap.peak_dbfs &&
               one.noise_dbfs == tap.noise_dbfs;
    });
    if (same == known_.end()) {
        known_.push_back({tap.sample_rate_hz, tap.onset_frame, tap.peak_dbfs, tap.noise_dbfs, begun});
        return false;
    }
    ++met_;
    day_ = base::local_date(same->begun);
    return true;
}

} // namespace platewright::cli
