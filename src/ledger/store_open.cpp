// The part of Store that opens a ledger, for writing or for reading.
#include "base/failure.hpp"
#include "ledger/mend/check.hpp"
#include "ledger/store.hpp"
#include "ledger/store_impl.hpp"
#include "ledger/tables/schema.hpp"
#include "ledger/tables/unfit.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <iterator>
#include <random>
#include <string_view>
#include <utility>

namespace platewright::ledger {
namespace {

using wording::say;

namespace fs = std::filesystem;

constexpr std::string_view k_lock_name = "ledger.lock";
constexpr std::array<std::string_view, 9> k_own_links{
    k_database_name,         k_lock_name,  "ledger.sqlite-wal",   "ledger.sqlite-shm",
    "ledger.sqlite-journal", "recordings", "recordings/incoming", "backups",
    "backups/looked-at"};
// What a ledger that died while it was being made may have left behind.
constexpr std::array<std::string_view, 7> k_own_names{
    k_database_name, k_lock_name, "ledger.sqlite-wal", "ledger.sqlite-shm", "ledger.sqlite-journal",
    "recordings",    "backups"};

bool may_become_a_ledger(const fs::path& folder) {
    return std::ranges::all_of(fs::directory_iterator{folder}, [](const auto& entry) {
        return std::ranges::find(k_own_names, entry.path().filename()) != k_own_names.end();
    });
}

[[noreturn]] void fail_no_ledger(const fs::path& folder) {
    throw base::Failure{"There is no ledger in " + folder.string() +
                        ". Choose the folder of a ledger, or a new one; nothing was changed."};
}

std::string set_journal(Database& database, const std::string& mode) {
    Statement journal{database, "PRAGMA journal_mode = " + mode};
    return journal.step() ? journal.text() : std::string{};
}

std::string random_name() {
    std::random_device random;
    return fmt::format("{:08x}{:08x}{:08x}{:08x}", random(), random(), random(), random());
}

/// Takes away what an opening made that failed, where there was no ledger before; whatever holds
/// something stays.
class Husk {
public:
    explicit Husk(const fs::path& folder) : folder_{folder} {
        std::error_code error;
        is_new_ = !fs::exists(folder / k_database_name, error);
        made_folder_ = !fs::exists(folder, error);
    }
    ~Husk() {
        if (!is_new_)
            return;
        std::error_code ignored;
        for (const char* name :
             {"ledger.sqlite", "ledger.sqlite-wal", "ledger.sqlite-shm", "ledger.sqlite-journal",
              "ledger.lock", "recordings/incoming", "recordings", "backups"})
            fs::remove(folder_ / name, ignored);
        if (made_folder_)
            fs::remove(folder_, ignored);
    }
    Husk(const Husk&) = delete;
    Husk& operator=(const Husk&) = delete;
    void keep() { is_new_ = false; }

private:
    fs::path folder_;
    bool is_new_ = false, made_folder_ = false;
};

bool is_full(const fs::path& folder) {
    constexpr std::uintmax_t k_least_bytes = 256U << 10U;
    std::error_code error;
    const fs::space_info space = fs::space(folder, error);
    return !error && space.available < k_least_bytes;
}

} // namespace

Store::Impl::Impl(fs::path where, Access access) : folder{std::move(where)}, access_{access} {
    run_ = random_name();
    std::error_code error;
    if (folder.empty() || (fs::exists(folder, error) && !fs::is_directory(folder, error)))
        fail_no_ledger(folder);
    Husk husk{folder};
    claim(access);
    if (why_read_only.empty())
        try {
            open_for_writing();
        } catch (const base::Failure&) {
            if (!is_full(folder))
                throw;
            why_read_only = say("its disk is full");
        }
    if (!why_read_only.empty())
        open_for_reading();
    husk.keep();
}

void Store::Impl::claim(Access access) {
    if (access == Access::read_only) {
        why_read_only = say("it was opened for reading only");
        return;
    }
    std::error_code error;
    if (!fs::exists(folder / k_database_name, error)) {
        if (holds_recordings(folder))
            throw base::Failure{say("The ledger's database is gone, but recordings lie "
                                    "in its folder, so no empty ledger is begun "
                                    "there. Run platewright check --mend, which brings "
                                    "back what its copies and the recordings "
                                    "hold; nothing was changed.")};
        if (fs::exists(folder, error) && !may_become_a_ledger(folder))
            throw base::Failure{"The folder " + folder.string() +
                                " holds other things and no ledger. Choose an empty or a new "
                                "folder; nothing was changed."};
        make_folder_durably(folder);
    }
    if (const auto link = link_among(folder, k_own_links)) {
        why_read_only = say("“{}” in its folder is a link to another place, and nothing is written "
                            "through links",
                            *link);
        return;
    }
    lock = std::make_unique<FolderLock>(folder / k_lock_name);
    if (lock->outcome() == FolderLock::Outcome::held_by_another)
        why_read_only = say("another program has it open");
    else if (lock->outcome() == FolderLock::Outcome::cannot_be_written)
        why_read_only = say("its folder cannot be written to");
    else if (lock->outcome() == FolderLock::Outcome::unguarded)
        notices.emplace_back(
            say("This folder's disk knows no locks, so the program can't tell whether another one "
                "writes to the ledger too. Let only one program have it open."));
}

// WAL needs memory shared between programs, which some folders lack (of networks, of virtual
// machines). A database that is in WAL already is then brought out of it by having it to itself
// (exclusive locking needs none of that memory), and keeps its rollback journal, whose last folder
// entry only EXTRA syncs.
void Store::Impl::open_database(bool has_shared_memory) {
    database = std::make_unique<Database>(folder / k_database_name, Database::Access::read_write);
    if (!has_shared_memory)
        database->run("PRAGMA locking_mode = EXCLUSIVE");
    schema_version(*database); // refuses a stranger's or a newer database before touching it
    in_wal_ = set_journal(*database, has_shared_memory ? "WAL" : "DELETE") == "wal";
    database->run(in_wal_ ? "PRAGMA synchronous = FULL" : "PRAGMA synchronous = EXTRA");
    if (!has_shared_memory)
        database->run("PRAGMA locking_mode = NORMAL");
    database->run("PRAGMA foreign_keys = ON");
    schema_version(*database); // the first reading in WAL is what maps that memory
}

void Store::Impl::open_for_writing() {
    make_own_folder(staging().parent_path());
    make_own_folder(staging());
    clear_staging(staging());
    witness.reset();
    settle_stale_journal();
    try {
        open_database(true);
    } catch (const base::Failure&) {
        if (!database || !database->has_failed())
            throw;
        database.reset();
        open_database(false);
    }
    if (!foreign_tables(*database, Foreign::harmful).empty()) {
        database.reset();
        why_read_only =
            say("its tables are not as this program makes them (platewright check says where)");
        return;
    }
    migrate(*database, folder / "backups");
    witness.emplace(*database, folder);
    standing_ = read_standing(*database);
    if (standing_.uid.empty()) {
        standing_.uid = random_name();
        Transaction transaction{*database};
        write_standing(*database, standing_);
        transaction.commit();
    }
    remember_files();
}

void Store::Impl::open_for_reading() {
    witness.reset();
    const fs::path file = folder / k_database_name;
    std::error_code error;
    if (!fs::exists(file, error))
        fail_no_ledger(folder);
    try {
        database = std::make_unique<Database>(file, Database::Access::read_only);
        schema_version(*database);
    } catch (const base::Failure&) {
        // A WAL database on media that cannot be written has nowhere to put its shared memory; when
        // its journal is folded in (gone or empty) it can be read as it lies.
        const auto journal = fs::file_size(folder / "ledger.sqlite-wal", error);
        if (!error && journal > 0)
            throw;
        database = std::make_unique<Database>(file, Database::Access::immutable);
    }
    file_ = state_of(file);
    const std::int64_t version = schema_version(*database);
    if (version == 0)
        fail_no_ledger(folder);
    if (version < std::ssize(schema_steps())) {
        // An older ledger that may not be touched is read from a copy brought up to date in memory.
        auto copy = std::make_unique<Database>(k_in_memory, Database::Access::read_write);
        database->copy_to(*copy);
        migrate(*copy, {});
        database = std::move(copy);
    }
}

} // namespace platewright::ledger
