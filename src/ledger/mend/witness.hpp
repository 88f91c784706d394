#pragma once
/// What a ledger says of itself for the day its database is damaged or lost: sums over its rows
/// (seals.hpp), and the facts of sessions, instruments and woods as files beside the recordings.
/// docs/ledger-format.md describes both.

#include "ledger/mend/seals.hpp"

#include <filesystem>
#include <set>
#include <string>
#include <utility>
#include <vector>

namespace platewright::ledger {

struct TapRecord;

/// Watches one open database. Facts are rows as in a bundle (docs/bundle-format.md), within those
/// they belong to, with `binned_ms`; left out is what an analysis finds again: readings and modes.
/// Threads: as its Database, which must outlive it.
class Witness {
public:
    /// Brings up to date what an earlier program left to be done in the ledger's folder.
    Witness(Database& database, std::filesystem::path ledger);

    /// Seals what the open transaction changed, and notes whose facts are to be written anew.
    void before_commit();
    /// Writes them: a few at once each durably, many with one flush for all. What can't be written
    /// now is written after the next change, or when the ledger is opened again.
    void after_commit();
    /// Notes whose facts have no file at all, as after they were lost. Within a transaction.
    void note_missing();
    /// From here on no facts are written, for they are being read: what changes is noted by
    /// release(), within a transaction, or forgotten by forget_held() where that was not to be.
    void hold();
    void release(std::int64_t highest); ///< highest: the greatest number of a file that was read
    void forget_held();

    /// The rows that a tap belongs to, from its instrument or wood down to itself, in the form of
    /// the files of facts: what its own recording says of it, beside its label. `owner`: session
    /// or wood_test, of the number TapRecord::session. Long texts are cut.
    std::string facts_of_tap(std::string_view owner, const std::string& uid, const TapRecord& tap);

private:
    struct Due {
        std::string kind;
        std::int64_t id = 0;
        std::int64_t number = 0; ///< of the change: a file with a greater one is of a later history
        bool operator==(const Due&) const = default;
    };
    enum class Over { older_files, all_files };
    void write_due(Over over);
    void watch(std::size_t place);
    std::string part_id(std::size_t place, const char* row) const;
    void note_due(const PartName& part, std::int64_t number);
    void put_on_list(const std::string& kind, std::int64_t id, std::int64_t number);
    std::int64_t next_number();
    std::int64_t number(const std::string& sql, std::int64_t id);
    std::string uid_of(std::string_view table, std::int64_t id);
    std::string facts_of(const Due& due, std::int64_t number);
    std::vector<Due> due();

    Database& database_;
    std::filesystem::path folder_;
    Seals seals_;
    TreeReader reader_;
    std::vector<Due> written_;     ///< to be struck off at the next change
    std::int64_t last_number_ = 0; ///< of a file that was written
    bool holds_ = false;
    std::set<std::pair<std::string, std::int64_t>> held_; ///< kind and id of what changed meanwhile
};

} // namespace platewright::ledger
