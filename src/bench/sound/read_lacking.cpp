#include "bench/sound/read_lacking.hpp"

#include "bench/sound/again.hpp"

#include <algorithm>

namespace platewright::bench {
namespace {

bool lacks_reading(const ledger::TapRecord& tap) {
    return taps::rings(tap.verdict) && !tap.recording.empty() && tap.analysis_version.empty();
}

bool is_lacking(const ledger::SessionHistory& session) {
    const bool has_good_taps = std::ranges::any_of(session.taps, [](const ledger::TapRecord& tap) {
        return taps::counts(tap.verdict) && !tap.recording.empty();
    });
    return std::ranges::any_of(session.taps, lacks_reading) ||
           (session.modes.empty() && has_good_taps);
}

} // namespace

int read_lacking(ledger::Store& store, const modes::FitParams& fit,
                 const std::function<bool(double)>& progress) {
    std::vector<ledger::Id> plates;
    for (const ledger::InstrumentSummary& instrument : store.overview())
        for (const ledger::PlateSummary& plate : instrument.plates)
            plates.push_back(plate.plate.id);
    int read = 0;
    for (std::size_t i = 0; i < plates.size(); ++i) {
        if (progress && !progress(static_cast<double>(i) / static_cast<double>(plates.size())))
            break;
        const auto history = store.history(plates[i]);
        if (!history || std::ranges::none_of(history->sessions, is_lacking))
            continue;
        auto anew =
            analyse_again(store, *history, fit); // all of them: names rest on the sessions before
        std::erase_if(anew,
                      [](const SessionAgain& session) { return !is_lacking(session.before); });
        for (const SessionAgain& session : anew)
            read += static_cast<int>(std::ranges::count_if(session.before.taps, lacks_reading));
        keep_again(store, anew);
    }
    return read;
}

} // namespace platewright::bench
