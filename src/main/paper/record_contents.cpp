#include "main/paper/record_contents.hpp"

#include "base/failure.hpp"
#include "main/paper/sheet_contents.hpp"

#include <algorithm>
#include <map>

namespace platewright::cli {
namespace {

/// The clearest accepted tap of each spot (it stands highest over the room), spots in their order,
/// so that sessions can be compared by ear at one spot; those without a spot last.
std::vector<ledger::TapRecord> clearest(const ledger::SessionHistory& session, std::size_t most) {
    const auto above = [](const ledger::TapRecord& tap) { return tap.peak_dbfs - tap.noise_dbfs; };
    std::map<std::pair<bool, taps::Spot>, ledger::TapRecord> best;
    for (const ledger::TapRecord& tap : session.taps) {
        if (!taps::counts(tap.verdict) || tap.recording.empty())
            continue;
        const auto [at, is_new] =
            best.try_emplace({tap.spot == taps::Spot::unknown, tap.spot}, tap);
        if (!is_new && above(tap) > above(at->second))
            at->second = tap;
    }
    std::vector<ledger::TapRecord> chosen;
    for (const auto& [spot, tap] : best)
        if (chosen.size() < most)
            chosen.push_back(tap);
    return chosen;
}

} // namespace

report::RecordPage record_of(const ledger::Store& store, const ledger::InstrumentRecord& instrument,
                             std::size_t sounds) {
    report::RecordPage page;
    page.version = PLATEWRIGHT_VERSION;
    page.sheet.instrument = instrument;
    for (const ledger::InstrumentSummary& one : store.overview())
        if (one.instrument.id == instrument.id)
            for (const ledger::PlateSummary& plate : one.plates)
                page.sheet.plates.push_back(
                    sheet_of(store.history(plate.plate.id).value(), std::nullopt, {}));
    for (const report::PlateSheet& plate : page.sheet.plates)
        for (const ledger::SessionHistory& session : plate.history.sessions)
            for (const ledger::TapRecord& tap : clearest(session, sounds)) {
                try {
                    page.taps.push_back({session.session.id, tap.spot, store.load(tap)});
                } catch (const base::Failure&) { // check names it; the page goes without
                }
            }
    return page;
}

std::string file_name_of(const std::string& label) {
    std::string name = label;
    std::replace_if(
        name.begin(), name.end(),
        [](char c) {
            return std::string_view("/\\:*?\"<>|").find(c) != std::string_view::npos ||
                   static_cast<unsigned char>(c) < ' ';
        },
        '-');
    return name.empty() || name.front() == '.' ? "sheet" + name : name;
}

} // namespace platewright::cli
