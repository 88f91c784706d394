#include "trends/plate_name.hpp"

#include "base/text.hpp"

#include <algorithm>
#include <string>

namespace platewright::trends {

std::string plate_name(const ledger::InstrumentRecord& instrument,
                       const ledger::PlateRecord& plate) {
    const bool said = plate.label.find(instrument.label) != std::string::npos;
    return said ? plate.label : instrument.label + ", " + plate.label;
}

namespace {

std::string lower(std::string_view words) {
    std::string out(words);
    std::transform(out.begin(), out.end(), out.begin(),
                   [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; });
    return out;
}

/// All that is said of it, in small letters.
std::string all_words(const ledger::InstrumentSummary& summary) {
    const ledger::InstrumentRecord& instrument = summary.instrument;
    std::string all = instrument.label + " " + std::string(modes::to_text(instrument.kind)) + " " +
                      instrument.notes;
    for (const ledger::PlateSummary& plate : summary.plates)
        all += " " + plate.plate.label + " " + std::string(modes::to_text(plate.plate.part)) + " " +
               plate.plate.wood + " " + plate.plate.notes + " " + plate.session_notes;
    return lower(all);
}

} // namespace

bool answers_to(const ledger::InstrumentSummary& instrument, std::string_view words) {
    std::string_view rest = base::trimmed(words);
    if (rest.empty())
        return true;
    const std::string all = all_words(instrument);
    while (!rest.empty()) {
        const std::size_t end = std::min(rest.find(' '), rest.size());
        if (all.find(lower(rest.substr(0, end))) == std::string::npos)
            return false;
        rest = base::trimmed(rest.substr(end));
    }
    return true;
}

} // namespace platewright::trends
