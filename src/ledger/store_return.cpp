// The part of Store that notices what other programs did to its files, and goes on safely.
#include "base/clock.hpp"
#include "base/failure.hpp"
#include "ledger/store_impl.hpp"
#include "wording/say.hpp"

#include <fmt/format.h>
#include <system_error>
#include <utility>

namespace platewright::ledger {
namespace {

namespace fs = std::filesystem;
using wording::say;

constexpr const char* k_journal_name = "ledger.sqlite-wal";
constexpr const char* k_shared_name = "ledger.sqlite-shm";

} // namespace

/// A journal that a killed program left is brought in by SQLite. One that lies beside a database it
/// does not belong to, as programs leave it that keep folders alike, would wreck that database.
void Store::Impl::settle_stale_journal() {
    const fs::path journal = folder / k_journal_name;
    std::error_code error;
    if (fs::file_size(journal, error) == 0 || error)
        return;
    try {
        if (look_apart(folder, true) || !look_apart(folder, false))
            return; // fit for each other; or damaged anyway, which opening it says
    } catch (const base::Failure&) {
        return; // no room to look: as it always was
    }
    const fs::path aside =
        folder / "backups" / fmt::format("journal-at-{}.sqlite-wal", base::now().ms_since_epoch);
    rename_durably(journal, aside);
    fs::remove(folder / k_shared_name, error);
    notices.push_back(
        say("The journal that lay beside the ledger's database belonged to another copy of it and "
            "was put aside as {}. Run platewright check --mend: it brings taps back from their "
            "recordings.",
            "backups/" + aside.filename().string()));
}

void Store::Impl::remember_file() {
    const fs::path file = folder / k_database_name;
    const auto now = state_of(file);
    if (now != file_ || !standing_in_file_) // SQLite brought the journal into it, or it is new
        standing_in_file_ = standing_of_file(file);
    file_ = now;
}

void Store::Impl::remember_files() {
    remember_file();
    journal_file_ = in_wal_ ? state_of(folder / k_journal_name) : std::nullopt;
}

/// The journal is the file that was opened, and holds at least what was written to it.
bool Store::Impl::journal_is_ours() const {
    if (!journal_file_)
        return true;
    const auto there = state_of(folder / k_journal_name);
    return there && there->identity == journal_file_->identity &&
           there->size >= journal_file_->size;
}

/// Nobody else wrote to the database's file. Some disks round a file's time when they look at it
/// again; then it is what the file holds that tells.
bool Store::Impl::is_as_we_left_it() const {
    const fs::path file = folder / k_database_name;
    const auto there = state_of(file);
    if (!there || !file_ || there->identity != file_->identity)
        return false;
    if (there == file_)
        return true;
    const auto holds = standing_of_file(file);
    const auto is = [&holds](const Standing& standing) {
        return holds->uid == standing.uid && holds->run == standing.run &&
               holds->changes == standing.changes;
    };
    return holds && (is(standing_) || (standing_in_file_ && is(*standing_in_file_)));
}

void Store::Impl::come_back() {
    const fs::path file = folder / k_database_name;
    const auto there = state_of(file);
    if (!there || !file_)
        return; // away: the next change says so
    if (!why_read_only.empty()) {
        if (there->identity != file_->identity || database->has_failed())
            open_anew();
        return;
    }
    if (is_lost_ || !is_as_we_left_it() || !journal_is_ours())
        go_on_with_what_lies_there();
    else if (database->has_failed())
        open_anew();
}

void Store::Impl::refuse(std::string sentence) {
    refused_ = state_of(folder / k_database_name);
    why_refused_ = std::move(sentence);
    throw base::Failure{why_refused_};
}

void Store::Impl::go_on_with_what_lies_there() {
    const fs::path file = folder / k_database_name;
    if (refused_ && refused_ == state_of(file))
        throw base::Failure{why_refused_};
    recorder_.reset();
    if (!is_lost_) {
        const auto now = state_of(file);
        const bool is_same_file = now && file_ && now->identity == file_->identity;
        if (!is_as_we_left_it())
            is_spoiled_ = is_spoiled_ || is_same_file;
        else if (database->checkpoint()) // what is open still holds the journal that lost its name
            remember_file();
        database->leave_disk_alone();
    }
    const Standing ours = standing_;
    const auto there = look_at_what_lies_there();
    if (!there)
        refuse(say(
            "The ledger's database was damaged or cut short by another program, so this was not "
            "kept. Put the newest copy from the ledger's folder “backups” in its place and go on: "
            "what was kept since this program began is then written into it again."));
    if (there->uid != ours.uid)
        refuse(say("Another ledger lies where this one was, so nothing was kept. Bring the "
                   "disk or folder back, or start the program anew."));
    const Kinship kin = kinship(*there, ours);
    if (kin == Kinship::older || kin == Kinship::other)
        lay_aside_what_was_open();
    if (kin == Kinship::other)
        refuse(say(
            "A copy of this ledger with other work in it was put in its place while it was open, "
            "so this was not kept. Close the program; what was open before lies in {}.",
            laid_aside_.empty() ? "recordings" : laid_aside_));
    drop_our_journal();
    // Two connections to one file share what they know of its journal: the old one must go first.
    if (const auto now = state_of(file); now && file_ && now->identity == file_->identity) {
        witness.reset();
        database = std::make_unique<Database>(k_in_memory, Database::Access::read_write);
        is_lost_ = true;
    }
    if (kin == Kinship::older)
        owed_ = ours;
    open_anew();
}

/// With its own journal, if it has one; without where that belongs to another copy.
std::optional<Standing> Store::Impl::look_at_what_lies_there() {
    const fs::path journal = folder / k_journal_name;
    const auto beside = state_of(journal);
    const bool is_foreign = beside && beside->size > 0 &&
                            !(journal_file_ && journal_file_->identity == beside->identity);
    if (is_foreign && !(file_ && is_as_we_left_it()))
        if (auto there = look_apart(folder, true))
            return there;
    auto alone = look_apart(folder, false);
    if (alone && is_foreign)
        rename_durably(journal,
                       folder / "backups" /
                           fmt::format("journal-at-{}.sqlite-wal", base::now().ms_since_epoch));
    return alone;
}

/// What this program still holds of a file that is no longer under its name, as a copy in backups/.
void Store::Impl::lay_aside_what_was_open() {
    if (is_lost_ || is_spoiled_ || laid_aside_at_ == standing_.changes)
        return;
    const std::string name = fmt::format("backups/open-at-{}.sqlite", base::now().ms_since_epoch);
    std::error_code error;
    try {
        make_own_folder(folder / "backups");
        database->copy_to(folder / name);
        sync_file(folder / name);
        laid_aside_ = name;
        laid_aside_at_ = standing_.changes;
    } catch (const base::Failure&) { // its disk is away
        fs::remove(folder / name, error);
    }
}

void Store::Impl::drop_our_journal() {
    std::error_code error;
    const auto beside = state_of(folder / k_journal_name);
    if (beside && journal_file_ && beside->identity == journal_file_->identity)
        fs::remove(folder / k_journal_name, error);
    fs::remove(folder / k_shared_name, error);
}

/// Commits once more what is not in the older copy that lies there now.
void Store::Impl::write_again() {
    const Standing ours = *std::exchange(owed_, std::nullopt);
    if (kinship(standing_, ours) != Kinship::older)
        return;
    const std::int64_t from = standing_.run == run_ ? standing_.changes : 0;
    database->run("PRAGMA foreign_keys = OFF"); // each change brings along what depends on it
    bool done = false;
    {
        Transaction transaction{*database};
        done = journal_.make_again(*database, from);
        if (done) {
            write_standing(*database, ours);
            transaction.commit();
        }
    }
    database->run("PRAGMA foreign_keys = ON");
    if (!done)
        refuse(say(
            "An older copy of this ledger was put in its place while it was open, and what was "
            "kept since can't be written into it, so this was not kept. Close the program; what "
            "was open before lies in {}.",
            laid_aside_.empty() ? "recordings" : laid_aside_));
    standing_ = read_standing(*database);
    remember_files();
    for (const auto& [hash, bytes] : journal_.recordings()) {
        const fs::path kept = recording_file(hash);
        std::error_code error;
        if (fs::file_size(kept, error) == bytes.size() && !error)
            continue;
        make_own_folder(kept.parent_path());
        write_durably(kept, bytes, staging());
    }
    notices.push_back(
        say("An older copy of the ledger was put in its place while it was open. What was "
            "kept since this program began is written into it again; the rest of what it "
            "lacks lies in {}.",
            laid_aside_.empty() ? "recordings" : laid_aside_));
}

void Store::Impl::after_commit() {
    const Standing before = standing_;
    standing_ = one_on(standing_, run_);
    journal_.add(standing_.changes, std::move(recorded_));
    recorded_ = {};
    try {
        const auto there = state_of(folder / k_database_name);
        if (!there || !file_ || there->identity != file_->identity || !journal_is_ours())
            come_back_after_commit();
        remember_files();
        if (witness)
            witness->after_commit(); // of what is open now, which may be another one
    } catch (const base::Failure&) {
        journal_.take_back_last(); // it was not acknowledged
        standing_ = before;
        throw;
    }
}

void Store::Impl::come_back_after_commit() {
    std::error_code error;
    if (!fs::exists(folder / k_database_name, error))
        throw base::Failure{
            say("The ledger's folder is no longer where it was, so this was not kept. Bring the "
                "disk or folder back and do it again; everything shown as kept before lies "
                "there.")};
    come_back();
}

} // namespace platewright::ledger
