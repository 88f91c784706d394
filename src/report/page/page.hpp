#pragma once
/// The record of an instrument as a page: one HTML file with everything in it, for a customer or a
/// colleague.

#include "report/sheet/sheet.hpp"
#include "taps/tap.hpp"

#include <filesystem>
#include <string>
#include <vector>

namespace platewright::report {

/// A tap that the page lets one hear.
struct PageTap {
    ledger::Id session = 0;
    taps::Spot spot = taps::Spot::unknown;
    taps::Tap sound; ///< as the ledger keeps it
};

/// What a page shows. Notes are the maker's own words, and may not be for everybody.
struct RecordPage {
    InstrumentSheet sheet;
    std::vector<PageTap> taps; ///< of any of its sessions, in any order
    bool with_notes = true;
    std::string version; ///< of the program, for the page's foot
};

/// The page in the language of now: how it was made in a few sentences, all sessions in their order
/// with their modes and taps, then each part with its drift, modes and thickness. UTF-8, HTML 5,
/// inline SVG and script; it fetches nothing (its Content-Security-Policy forbids it), and every
/// word of the ledger in it is escaped. Readable and whole without script, and on paper.
/// Threads: pure but for the language. Cost: some 10 ms, and 1 ms a tap.
std::string record_page(const RecordPage& page, base::Timestamp written);

/// Writes it. Throws base::Failure when it can't be written; what was there before then stays.
void write_page(const RecordPage& page, const std::filesystem::path& file, base::Timestamp written);

} // namespace platewright::report
