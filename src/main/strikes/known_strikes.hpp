#pragma once
#include "base/clock.hpp"
#include "ledger/record.hpp"
#include "taps/tap.hpp"

#include <cstdint>
#include <map>
#include <string>
#include <tuple>
#include <vector>

namespace platewright::cli {

/// The strikes a plate or a wood has already: the same recording entered twice would count its
/// evidence twice.
class KnownStrikes {
public:
    /// Those of a session or a test that was begun then.
    void add(const std::vector<ledger::TapRecord>& taps, base::Timestamp begun);
    /// Whether it is known; if not, it is from now on, as one begun then. Place, peak and noise of
    /// two strikes don't agree to the last digit by chance.
    bool has(const taps::Tap& tap, base::Timestamp begun);
    int met() const { return met_; }                ///< how often it was known
    const std::string& day() const { return day_; } ///< on which the last one met was kept

    /// Rate, Hz; onset, frames; peak and noise, dBFS.
    using Mark = std::tuple<double, std::int64_t, double, double>;

private:
    std::map<Mark, base::Timestamp> known_; ///< when its session or test was begun
    int met_ = 0;
    std::string day_;
};

} // namespace platewright::cli
