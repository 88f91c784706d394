#pragma once
#include "ledger/database.hpp"

#include <cstdint>
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

namespace platewright::ledger {

/// What is wrong with a ledger on its disk, if anything.
struct CheckReport {
    std::vector<std::string>
        database; ///< what SQLite finds amiss in its own words; empty when whole
    std::vector<std::string> missing; ///< recordings that taps name and the folder lacks, by hash
    std::vector<std::string> damaged; ///< recordings whose content is not what their name says
    std::vector<std::string>
        unclaimed;                  ///< recordings that no tap names; harmless, and never removed
    std::vector<std::string> unfit; ///< what another hand or a later program put into the database
                                    ///< (unfit.hpp), for people
    std::int64_t taps = 0;
    std::int64_t recordings = 0;

    [[nodiscard]] bool whole() const {
        return database.empty() && unfit.empty() && missing.empty() && damaged.empty();
    }
};

/// Reads the whole ledger, every recording included, and changes nothing.
/// `progress` is called with the share done, 0..1, and stops the check by returning false.
/// Fails: base::Failure when there is no ledger that can be opened.
/// Cost: reads all there is. Threads: any, beside a Store on the same folder.
CheckReport check(const std::filesystem::path& folder,
                  const std::function<bool(double)>& progress = {});

/// Whether a recording is there, can be read, and is what its name says.
bool is_what_its_name_says(const std::filesystem::path& file, const std::string& hash);

/// Recordings in the folder that the database does not know, by hash, ascending. Reads no
/// recording.
std::vector<std::string> unclaimed_recordings(Database& database,
                                              const std::filesystem::path& folder);

} // namespace platewright::ledger
