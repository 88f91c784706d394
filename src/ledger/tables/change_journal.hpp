#pragma once
/// What this program has committed since it opened a ledger, kept in memory, so that it can be
/// committed again where the file it went into was taken away.

#include "ledger/tables/database.hpp"

#include <cstddef>
#include <cstdint>
#include <deque>
#include <filesystem>
#include <span>
#include <string>
#include <utility>
#include <vector>

struct sqlite3_session;

namespace platewright::ledger {

/// Records what one transaction changes, row by row and by primary key (SQLite's session
/// extension). Threads: as its Database, which must outlive it.
class ChangeRecorder {
public:
    /// Begin it after the transaction.
    explicit ChangeRecorder(Database& database);
    ~ChangeRecorder();
    ChangeRecorder(const ChangeRecorder&) = delete;
    ChangeRecorder& operator=(const ChangeRecorder&) = delete;

    /// All that was changed so far; to be called before the transaction ends.
    std::vector<std::byte> changes();

private:
    sqlite3_session* session_ = nullptr;
};

/// Changes and recordings of this run, the oldest let go where they take more than k_most_bytes.
/// Threads: one.
class ChangeJournal {
public:
    static constexpr std::size_t k_most_bytes = std::size_t{128}
                                                << 20U; // an evening's taps ten times

    void add(std::int64_t number, std::vector<std::byte> changes);
    void take_back_last();
    void add_recording(std::string hash, std::vector<std::byte> bytes);

    /// Makes all changes with numbers beyond `from` again, within a transaction of the caller's and
    /// with foreign keys off. False: they do not fit what is there; roll back then.
    bool make_again(Database& database, std::int64_t from) const;

    const std::deque<std::pair<std::string, std::vector<std::byte>>>& recordings() const {
        return recordings_;
    }

private:
    std::deque<std::pair<std::int64_t, std::vector<std::byte>>> changes_;
    std::deque<std::pair<std::string, std::vector<std::byte>>> recordings_;
    std::size_t change_bytes_ = 0, recording_bytes_ = 0;
};

} // namespace platewright::ledger
