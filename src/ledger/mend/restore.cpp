#include "base/failure.hpp"
#include "ledger/files/laying_aside.hpp"
#include "ledger/mend/backups.hpp"
#include "ledger/mend/mend.hpp"
#include "ledger/tables/database.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace platewright::ledger {
namespace {

namespace fs = std::filesystem;
using wording::say;

std::optional<LaidCopy> copy_called(const fs::path& folder, std::string_view name) {
    for (const LaidCopy& copy : copies_in(folder))
        if (copy.name == name || (copy.kind == LaidCopy::Kind::regular && copy.number > 0 &&
                                  fmt::format("{}", copy.number) == name))
            return copy;
    return std::nullopt;
}

/// The copy in one file of its own, its journal folded in.
void take_whole(const LaidCopy& copy, const fs::path& work) {
    for (const char* name : k_database_files) {
        const std::string ending =
            std::string{name}.substr(std::string_view{k_database_files[0]}.size());
        copy_durably(copy.file.string() + ending, work / name);
    }
    try {
        Database database{work / k_database_files[0], Database::Access::read_write};
        Statement fold{database, "PRAGMA wal_checkpoint(TRUNCATE)"};
        fold.step();
    } catch (const base::Failure&) {
        // What is wrong with it is_whole_database() finds and says.
    }
}

} // namespace

base::Result<RestoreReport> restore(const fs::path& folder, std::string_view name, bool also_mend) {
    const auto copy = copy_called(folder, name);
    if (!copy)
        return base::Fault{
            say("No such copy lies in the ledger's folder, so nothing was put back.")};
    RestoreReport report{*copy, {}, {}};
    {
        const auto lock = lock_or_fail(folder);
        const fs::path work = work_folder(folder);
        take_whole(*copy, work);
        const bool whole = is_whole_database(work / k_database_files[0]);
        if (whole) {
            report.laid_aside = lay_aside(folder);
            put_database_in_place(work / k_database_files[0], folder);
        }
        std::error_code ignored;
        fs::remove_all(work, ignored);
        if (!whole)
            return base::Fault{
                say("That copy is damaged itself, so nothing was put back. Choose another one.")};
    }
    Store store{folder};
    if (also_mend)
        report.found = store.rescue();
    return report;
}

} // namespace platewright::ledger
