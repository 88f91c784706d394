#include "bench/daily_copy.hpp"

#include <chrono>

#include "base/clock.hpp"
#include "base/failure.hpp"
#include "ledger/backups.hpp"
#include "ledger/store.hpp"
#include "wording/say.hpp"

namespace platewright::bench {

using wording::say;

void DailyCopy::begin(const std::filesystem::path& ledger_folder) {
    whole_ = std::async(std::launch::async, [ledger_folder] {
        const bool whole = ledger::is_whole(ledger_folder);
        if (whole)
            ledger::back_up_if_due(ledger_folder, base::now());
        return whole;
    });
}

std::optional<std::string> DailyCopy::trouble() {
    if (!whole_.valid() || whole_.wait_for(std::chrono::seconds(0)) != std::future_status::ready)
        return std::nullopt;
    try {
        if (whole_.get())
            return std::nullopt;
        return std::string(say("The ledger's database is damaged. Close the program, run platewright "
                               "check, and do as it says; the recordings and earlier copies are "
                               "untouched."));
    } catch (const base::Failure&) {
        return std::string(say("Today's copy of the ledger's database could not be laid aside; the ledger "
                               "itself is safe. Check the room on its disk."));
    }
}

} // namespace platewright::bench
