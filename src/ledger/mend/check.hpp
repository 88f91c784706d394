#pragma once
#include "ledger/tables/database.hpp"

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
    std::vector<std::string>
        changed; ///< parts whose rows are not those that were sealed, for people
    std::vector<std::string> missing; ///< recordings that taps name and the folder lacks, by hash
    std::vector<std::string> damaged; ///< recordings whose content is not what their name says
    std::vector<std::string>
        strangers; ///< recordings of taps, and facts, that the database does not know
    std::vector<std::string>
        unclaimed;                  ///< recordings of other programs; harmless, and never removed
    std::vector<std::string> unfit; ///< what another hand or a later program put into the database
                                    ///< (unfit.hpp), for people
    std::int64_t taps = 0;          ///< that can be read
    std::int64_t sessions = 0;
    std::int64_t recordings = 0;

    [[nodiscard]] bool whole() const {
        return database.empty() && unfit.empty() && changed.empty() && missing.empty() &&
               damaged.empty() && strangers.empty();
    }
};

/// Reads the whole ledger, every recording included, and changes nothing. Of a damaged database it
/// reads row by row what can be read (salvage.hpp). `progress` is called with the share done, 0..1,
/// and stops the check by returning false. Fails: base::Failure when there is no ledger, or one of
/// a newer version or another program. Cost: reads all there is. Threads: any, beside a Store on
/// the same folder.
CheckReport check(const std::filesystem::path& folder,
                  const std::function<bool(double)>& progress = {});

/// Whether a recording is there, can be read, and is what its name says.
bool is_what_its_name_says(const std::filesystem::path& file, const std::string& hash);

/// Recordings in the folder that the database does not know, by hash, ascending. Reads no
/// recording.
std::vector<std::string> unclaimed_recordings(Database& database,
                                              const std::filesystem::path& folder);

/// Files of facts (witness.hpp) of sessions that the database does not know.
std::vector<std::filesystem::path> unclaimed_facts(Database& database,
                                                   const std::filesystem::path& folder);

/// Whether a ledger's folder holds recordings or facts: an empty database beside them is no new
/// ledger.
bool holds_recordings(const std::filesystem::path& folder);

} // namespace platewright::ledger
