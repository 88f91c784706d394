#pragma once
#include "ledger/files/file_safety.hpp"
#include "ledger/mend/standing.hpp"
#include "ledger/mend/witness.hpp"
#include "ledger/store.hpp"
#include "ledger/tables/change_journal.hpp"
#include "ledger/tables/record_rows.hpp"

#include <filesystem>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace platewright::ledger {

/// In the ledger's folder.
inline constexpr std::string_view k_database_name = "ledger.sqlite";

/// What a Store owns; shared by the files that store.hpp's promises are spread over.
struct Store::Impl : private Transaction::Watch {
    Impl(std::filesystem::path where, Access access);

    /// Begins a change, or says why none can be made.
    Transaction change();

    /// A new row; returns its id.
    template <class Record>
    Id add_record(const Record& record) {
        Transaction transaction = change();
        const Id id = insert_row(*database, record);
        transaction.commit();
        return id;
    }

    /// A change of a row that must be there.
    template <class Record>
    void update_record(const Record& record) {
        Transaction transaction = change();
        update_row(*database, record);
        if (database->changes() != 1)
            throw std::invalid_argument{"no such thing in the ledger"};
        transaction.commit();
    }

    /// The same by a statement of its own.
    template <class... Values>
    void update_one(const std::string& sql, const Values&... values) {
        Transaction transaction = change();
        database->execute(sql, values...);
        if (database->changes() != 1)
            throw std::invalid_argument{"no such thing in the ledger"};
        transaction.commit();
    }

    /// A word of the maker's on something: it counts in place of those said before, which stay.
    /// `newest` is the query for the last one's moment; the statement takes what it is on, the
    /// values, the moment.
    template <class... Values>
    void add_word(const char* statement, const char* newest, Id on, const Values&... values);

    /// Opens the database anew where the file it had is gone and is there again, or was exchanged
    /// or written over by another program: a stick that was pulled out, a folder put back from a
    /// copy, a program that keeps folders alike. What was committed since this program began and is
    /// not in the file that lies there is committed again. Does nothing while all is well, or
    /// nothing is there. Fails: base::Failure where what lies there can't be gone on with; nothing
    /// is written into it.
    void come_back();
    /// Where the ledger could not be written to and now can be, goes on for writing.
    void try_to_write_again();
    /// Within a transaction of the caller's.
    std::optional<PlateHistory> history(Id plate) const;
    /// The uid of a row, by which a recording names what it belongs to. `table` is ours, never the
    /// caller's text. Throws std::invalid_argument where there is none.
    std::string uid_of_row(const char* table, Id id);
    /// A new uid, for a row that its recording has to name before it is there.
    std::string new_uid();
    /// Writes the sound under its content's name, if it is not there already, and gives that name.
    /// The owner is a row of `session` or `wood_test`. Call it within a change.
    std::string keep_recording(const char* owner, const std::string& tap_uid,
                               const TapRecord& record, const std::vector<float>& samples,
                               const HammerForce& force);
    /// Keeps a tap's sound, and in the record what is its own of it.
    void keep_sound(const char* owner, const std::string& tap_uid, TapRecord& record,
                    const taps::Tap& tap, const HammerForce& force);

    /// A recording's file in the ledger; kept in memory too, in case the folder is exchanged.
    void write_recording(const std::string& hash, std::vector<std::byte> bytes);

    std::filesystem::path recording_file(const std::string& hash) const;
    std::filesystem::path staging() const { return folder / "recordings" / "incoming"; }

    std::filesystem::path folder;
    std::unique_ptr<FolderLock> lock; ///< null where only reading was asked for
    std::string why_read_only;        ///< a clause; empty while writing is allowed
    std::unique_ptr<Database> database;
    std::optional<Witness> witness; ///< of the database, while it may be written to

    std::vector<std::string> notices; ///< what became of the ledger, to be told to its maker

private:
    void before_commit() override;
    void after_commit() override;
    void claim(Access access);
    void open_for_writing();
    void open_database(bool has_shared_memory);
    void open_for_reading();
    void settle_stale_journal();

    // store_return.cpp
    void remember_file();
    void remember_files();
    bool is_as_we_left_it() const;
    bool journal_is_ours() const;
    void open_anew();
    void come_back_after_commit();
    void go_on_with_what_lies_there();
    std::optional<Standing> look_at_what_lies_there();
    void lay_aside_what_was_open();
    void drop_our_journal();
    void write_again();
    [[noreturn]] void refuse(std::string sentence);

    Access access_;
    bool in_wal_ = false;
    std::string run_;                          ///< this opening's name
    Standing standing_;                        ///< of the ledger, as last committed or read
    std::optional<FileState> file_;            ///< of the database, as last seen
    std::optional<FileState> journal_file_;    ///< of its -wal
    std::optional<Standing> standing_in_file_; ///< of what is in the file without its -wal
    std::optional<ChangeRecorder> recorder_;
    std::vector<std::byte> recorded_;
    ChangeJournal journal_;
    std::optional<FileState> refused_; ///< the file that could not be gone on with
    std::string why_refused_;
    std::string laid_aside_;          ///< the file that what was open went into
    std::int64_t laid_aside_at_ = -1; ///< its number of changes
    bool is_lost_ = false;            ///< no database is open
    bool is_spoiled_ = false;         ///< what is open was written over
    std::optional<Standing>
        owed_; ///< what is to be written again once the ledger can be written to
    std::int64_t tried_again_ms_ = 0;
};

/// Now; or just after the newest of its kind, where the clock was set back in between: what was
/// said last counts. `newest`: a query for that one's moment, with one parameter.
std::int64_t moment_after(Database& database, const std::string& newest, Id parent);

template <class... Values>
void Store::Impl::add_word(const char* statement, const char* newest, Id on,
                           const Values&... values) {
    Transaction transaction = change();
    database->execute(statement, on, values..., moment_after(*database, newest, on));
    transaction.commit();
}

} // namespace platewright::ledger
