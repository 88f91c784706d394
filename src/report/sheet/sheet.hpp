#pragma once
#include "ledger/record.hpp"
#include "plot/drift.hpp"
#include "plot/plate/plate_picture.hpp"
#include "report/sheet/flow.hpp"
#include "trends/drift/comparison.hpp"
#include "trends/model/plan_zones.hpp"
#include "trends/plate_report.hpp"
#include "trends/review/map_review.hpp"
#include "trends/wood/wood_choice.hpp"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace platewright::report {

/// A plate's newest plan, as it is taken to the bench.
struct PlanOnPaper {
    ledger::PlanRecord record;
    std::optional<base::Timestamp>
        tapped_since; ///< a session begun after it was made: it is out of date
    plot::PlatePicture
        picture; ///< where the next pass takes wood, from the inside; empty: `trouble`
    std::vector<trends::PlanZone> zones; ///< of that pass, their names as seen from the inside
    std::string doubt;                   ///< of the model; empty: none
    std::string trouble;                 ///< why nothing is drawn
};

/// All that a bench sheet shows of a plate, computed. What is not there is left out of the sheet.
struct PlateSheet : trends::PlateReport {
    ledger::PlateHistory history;
    plot::DriftPicture chart;
    std::optional<trends::MapReview> map; ///< of the newest session with caliper readings
    plot::PlatePicture map_picture;
    std::optional<PlanOnPaper> plan;
    std::optional<trends::Comparison> comparison; ///< of the newest session
    std::string reference;                        ///< its name
};

/// An instrument's record of making: its plates beside each other, and all sessions in their order.
struct InstrumentSheet {
    ledger::InstrumentRecord instrument;
    std::vector<PlateSheet> plates;
};

/// A wood beside another one.
struct WoodBeside {
    std::string label;
    trends::WoodFigures figures;
    std::optional<trends::Likeness> likeness; ///< nothing where the two have too little in common
    trends::ThicknessChoice share; ///< for a plate of 100: thicknesses in % of the other's
};

/// All that a wood's sheet shows.
struct WoodSheet {
    ledger::WoodHistory history;
    trends::WoodFigures figures;
    std::vector<std::string> plates; ///< labels of those carved from it
    std::optional<WoodBeside> beside;
};

/// Writes a sheet as PDF in the language of now, good in black and white, with room to write by
/// hand at its end: two or three pages for a plate of a dozen sessions with map and plan; more
/// sessions, or long notes, go on further pages and are never cut. Returns the pages written.
/// Fails: base::Failure when the file can't be written; what was there before then stays. Threads:
/// any. Cost: some 50 ms a laying out, and up to five of them.
int write_sheet(const PlateSheet& sheet, const std::filesystem::path& file, Paper paper,
                base::Timestamp printed);
int write_sheet(const InstrumentSheet& sheet, const std::filesystem::path& file, Paper paper,
                base::Timestamp printed);
int write_sheet(const WoodSheet& sheet, const std::filesystem::path& file, Paper paper,
                base::Timestamp printed);

} // namespace platewright::report
