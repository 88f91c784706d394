#pragma once
#include "ledger/database.hpp"
#include "ledger/file_safety.hpp"
#include "ledger/store.hpp"
#include "ledger/witness.hpp"

#include <filesystem>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>

namespace platewright::ledger {

/// What a Store owns; shared by the files that store.hpp's promises are spread over.
struct Store::Impl : private Transaction::Watch {
    Impl(std::filesystem::path where, Access access);

    /// Begins a change, or says why none can be made.
    Transaction change();

    /// A change of one statement; returns the new row's id.
    template <class... Values>
    Id insert(const std::string& sql, const Values&... values) {
        Transaction transaction = change();
        const Id id = database->execute(sql, values...);
        transaction.commit();
        return id;
    }

    /// The same of one row that must be there.
    template <class... Values>
    void update_one(const std::string& sql, const Values&... values) {
        Transaction transaction = change();
        database->execute(sql, values...);
        if (database->changes() != 1)
            throw std::invalid_argument{"no such thing in the ledger"};
        transaction.commit();
    }

    /// A word of the maker's on something: it counts in place of those said before, which stay. `newest`
    /// is the query for the last one's moment; the statement takes what it is on, the values, the moment.
    template <class... Values>
    void add_word(const char* statement, const char* newest, Id on, const Values&... values);

    /// Opens the database anew where the one it had is gone and is there again: a stick that was
    /// pulled out, a network folder that came back. Does nothing while all is well, or nothing is
    /// there. Fails: base::Failure where another ledger lies in its place.
    void come_back();
    /// Within a transaction of the caller's.
    std::optional<PlateHistory> history(Id plate) const;
    /// The uid of a row, by which a recording names what it belongs to. `table` is ours, never the
    /// caller's text. Throws std::invalid_argument where there is none.
    std::string uid_of_row(const char* table, Id id);
    /// A new uid, for a row that its recording has to name before it is there.
    std::string new_uid();
    /// Writes the sound under its content's name, if it is not there already, and gives that name.
    /// The owner is a row of `session` or `wood_test`. Call it within a change.
    std::string keep_recording(const char* owner, Id owner_id, const std::string& tap_uid,
                               const TapRecord& record, const taps::Tap& tap);

    std::filesystem::path recording_file(const std::string& hash) const;
    std::filesystem::path staging() const { return folder / "recordings" / "incoming"; }

    std::filesystem::path folder;
    std::unique_ptr<FolderLock> lock; ///< null where only reading was asked for
    std::string why_read_only;        ///< a clause; empty while writing is allowed
    std::unique_ptr<Database> database;
    std::optional<Witness> witness; ///< of the database, while it may be written to

private:
    void before_commit() override;
    void after_commit() override;
    void remember_file();
    void claim(Access access);
    void open_for_writing();
    void open_for_reading();

    std::optional<FileIdentity> file_; ///< of the database when it was opened
    std::string uid_;                  ///< of the ledger
};

/// Now; or just after the newest of its kind, where the clock was set back in between: what was said
/// last counts. `newest`: a query for that one's moment, with one parameter.
std::int64_t moment_after(Database& database, const std::string& newest, Id parent);

template <class... Values>
void Store::Impl::add_word(const char* statement, const char* newest, Id on, const Values&... values) {
    Transaction transaction = change();
    database->execute(statement, on, values..., moment_after(*database, newest, on));
    transaction.commit();
}

} // namespace platewright::ledger
