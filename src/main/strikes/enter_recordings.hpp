#pragma once
#include "bench/workbench.hpp"
#include "ledger/store.hpp"
#include "main/strikes/hear.hpp"
#include "modes/usual_band.hpp"

#include <exception>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace platewright::cli {

/// What `enter` made so far; put away again unless a tap came to lie in it.
class Made {
public:
    explicit Made(ledger::Store& store) : store_(store) {}
    ~Made() {
        try {
            for (auto made = made_.rbegin(); made != made_.rend(); ++made)
                store_.bin(made->first, made->second);
        } catch (const std::exception&) { // the disk that failed before: what failed has been said
        }
    }
    Made(const Made&) = delete;
    Made& operator=(const Made&) = delete;
    ledger::Id add(const char* table, ledger::Id id) {
        made_.emplace_back(table, id);
        return id;
    }
    void keep() { made_.clear(); }

private:
    ledger::Store& store_;
    std::vector<std::pair<const char*, ledger::Id>> made_;
};

/// From this moment of the recording on, taps were struck here.
struct SpotFrom {
    double from_s = 0;
    taps::Spot spot = taps::Spot::unknown;
};

/// Recordings that become one session.
struct RecordingsOrder {
    std::vector<std::filesystem::path> files;
    int channel = 0; ///< counted from 0
    modes::FitParams fit;
    std::vector<SpotFrom> spots; ///< of each recording
    bool takes_doubtful = false;
};

struct EnteredRecordings {
    std::optional<ledger::Id>
        session;           ///< nothing: all taps were known already, and nothing was entered
    int known = 0;         ///< taps that the plate had already
    std::string known_day; ///< when it got them
    std::vector<std::string> complaints; ///< a sentence each
    int recognised = 0;                  ///< doubtful taps that only later ones told of
    bool unusable = false;               ///< a recording, in whole or in part
    bool found = false;                  ///< a tap was good enough to be read
};

/// The plate's own band, for recordings of it, with what was chosen put in.
modes::FitParams usual_fit(const ledger::PlateHistory& history,
                           const modes::BandChoice& chosen = {});

/// Reads the recordings into a new session of `session.plate`, begun with the first strike that the
/// plate does not have yet (without recordings at once), and settles it. `on_tap` is told each tap
/// kept. Fails: base::Failure; what was kept stays. Cost: a three-hundredth of the recordings'
/// length.
EnteredRecordings enter_recordings(ledger::Store& store, bench::Workbench& bench,
                                   const ledger::SessionRecord& session,
                                   const RecordingsOrder& order, Made& made,
                                   const std::function<void(const bench::HeardTap&)>& on_tap);

} // namespace platewright::cli
