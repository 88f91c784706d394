#pragma once
#include "base/result.hpp"
#include "ledger/store.hpp"
#include "report/sheet/sheet.hpp"
#include "wording/language.hpp"

#include <filesystem>
#include <string>
#include <vector>

namespace platewright::cli {

/// A sheet to be written.
struct SheetOrder {
    std::string name;      ///< of the plate, the instrument or the wood, or its number
    ledger::Id id = 0;     ///< where it is known: the name is then not looked at
    std::string reference; ///< what the newest session is set beside; for a wood another wood;
                           ///< empty: nothing
    ledger::Id reference_session = 0; ///< the same by its session, called `reference` on the sheet
    std::string paper = "a4", kind = "pdf", moisture;
    std::filesystem::path file;    ///< empty: the thing's name, here
    std::filesystem::path figures; ///< a folder for the figures alone; empty: none
    bool instrument = false, wood = false;

    report::Paper size() const {
        return paper == "letter" ? report::Paper::letter : report::Paper::a4;
    }
};

struct WrittenSheet {
    std::filesystem::path file;
    int pages = 0;
    std::vector<std::filesystem::path> figures;
};

/// Writes it in the language of now. Fault: there is no such thing, or it is not the only one.
/// Fails: base::Failure of the disk, CLI::ValidationError for a moisture that can't be.
base::Result<WrittenSheet> write_sheet(const ledger::Store& store, const SheetOrder& order);

/// Paper and pages are for people: they are in the window's language and with its decimal mark,
/// unless another one's code is given. It is spoken while the result is there. All else stays as
/// scripts know it.
wording::Speaking speaking_for_people(const std::string& code);

} // namespace platewright::cli
