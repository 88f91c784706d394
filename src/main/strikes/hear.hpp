#pragma once
#include "audio/force_memory.hpp"
#include "base/clock.hpp"
#include "base/result.hpp"
#include "bench/sound/listening.hpp"
#include "ledger/record.hpp"
#include "main/console.hpp"
#include "taps/tap.hpp"

#include <cstdint>
#include <filesystem>
#include <functional>
#include <map>
#include <memory>
#include <string>
#include <tuple>
#include <vector>

namespace platewright::cli {

/// What a recording, heard from end to end, gave.
struct Heard {
    double sample_rate_hz = 0;
    double duration_s = 0;
    std::vector<bench::HeardTap>
        taps; ///< sound kept of the first ones only, so that length costs no memory
    modes::Pooled pooled;
    std::string trouble; ///< one sentence when the file can't be used, in whole or in part
    bool silent = false; ///< not a sample of sound in it
    int gated = 0;       ///< accepted taps that come out of digital silence
};

/// What the taps say against the input they came through, a sentence each.
std::vector<std::string> input_remarks(const std::filesystem::path& path, const Heard& heard);
/// A recording opened to be heard. Faults: what Recording::open refuses, and a band that its rate
/// can't carry.
base::Result<std::unique_ptr<bench::Listening>>
open_to_hear(const std::filesystem::path& path, int channel, const modes::FitParams& fit);

/// The same with a hammer's force beside the sound; `force` sees each tap with what the source
/// remembers of it.
using ForceSeen = std::function<void(bench::HeardTap&, const audio::ForceMemory&)>;

/// Plays a recording through the bench's listening as fast as it goes. `on_tap`, when given, sees
/// each tap with all its sound before it is put away, and may change what became of it; doubtful
/// ones that only later taps tell of are accepted at the end.
Heard hear(const std::filesystem::path& path, int channel, const modes::FitParams& fit,
           const std::function<void(bench::HeardTap&)>& on_tap = {});
/// As above, with the force of `force_channel` (counted from 0) told to `seen`.
Heard hear(const std::filesystem::path& path, int channel, const modes::FitParams& fit,
           int force_channel, const ForceSeen& seen);

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
