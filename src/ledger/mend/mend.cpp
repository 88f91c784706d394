#include "ledger/mend/mend.hpp"

#include "base/clock.hpp"
#include "base/failure.hpp"
#include "ledger/bundle/part_copy.hpp"
#include "ledger/files/file_safety.hpp"
#include "ledger/files/laying_aside.hpp"
#include "ledger/files/recording_file.hpp"
#include "ledger/mend/backups.hpp"
#include "ledger/mend/check.hpp"
#include "ledger/mend/salvage.hpp"
#include "ledger/mend/seals.hpp"
#include "ledger/mend/standing.hpp"
#include "ledger/tables/rows.hpp"
#include "ledger/tables/schema.hpp"

#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <memory>

namespace platewright::ledger {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t k_most_copies = 3; // older ones hold little that these lack

/// Whether its rows are all there and all as they were sealed. A ledger of another program or a
/// newer version fails here, and is left alone.
enum class Condition { whole, changed, damaged, gone };

Condition condition_of(const fs::path& folder) {
    std::error_code error;
    if (!fs::exists(folder / "ledger.sqlite", error))
        return Condition::gone;
    Database database{folder / "ledger.sqlite", Database::Access::read_only};
    try {
        if (const std::int64_t version = schema_version(database); version == 0)
            return Condition::gone; // begun and never filled
        else if (version < std::ssize(schema_steps()))
            return is_whole(folder) ? Condition::whole : Condition::damaged;
        Statement integrity{database, "PRAGMA integrity_check(1)"};
        if (!integrity.step() || integrity.text() != "ok")
            return Condition::damaged;
        Condition condition = Condition::whole;
        Seals{database}.each_broken(
            [&condition](const PartName&, bool) { condition = Condition::changed; });
        return condition;
    } catch (const base::Failure&) {
        if (!database.has_failed())
            throw;
        return Condition::damaged;
    }
}

std::string uid_of(Database& database) {
    try {
        return setting(database, k_uid_key).value_or("");
    } catch (const base::Failure&) {
        return {};
    }
}

/// Rows of recordings that were lost with their page, from the files.
void know_recordings(Database& database, const fs::path& folder) {
    for (const std::string& hash : database.texts(
             "SELECT DISTINCT recording FROM (SELECT recording FROM tap UNION SELECT recording "
             "FROM wood_tap) WHERE recording IS NOT NULL AND recording NOT IN (SELECT hash FROM "
             "recording)")) {
        try {
            const auto bytes = read_whole(recording_file(folder, hash));
            const Sound sound = decode_recording(bytes);
            if (sha256_hex(bytes) == hash)
                know_recording(database, hash, sound.sample_rate_hz, sound.samples.size(),
                               bytes.size());
        } catch (const base::Failure&) {
            // Lost too: its tap keeps its figures.
        }
    }
}

/// The newest whole copies of this ledger, newest first.
std::vector<fs::path> whole_copies(const fs::path& folder, const std::string& uid) {
    std::vector<fs::path> files;
    for (const LaidCopy& copy : copies_in(folder)) {
        if (files.size() == k_most_copies)
            break;
        if (copy.kind == LaidCopy::Kind::replaced || !is_whole_database(copy.file))
            continue;
        Database database{copy.file, Database::Access::immutable};
        if (uid.empty() || uid_of(database).empty() || uid_of(database) == uid)
            files.push_back(copy.file);
    }
    return files;
}

/// A database of today's tables that takes the place of a damaged or lost one.
class Rebuilt {
public:
    Rebuilt(fs::path folder, MendReport& report)
        : folder_{std::move(folder)}, work_{work_folder(folder_)}, report_{report} {
        into_ = std::make_unique<Database>(work_ / "new.sqlite", Database::Access::read_write);
        migrate(*into_, {});
        into_->run("PRAGMA synchronous = OFF"); // flushed once, when all is there
    }
    ~Rebuilt() {
        into_.reset();
        std::error_code ignored;
        fs::remove_all(work_, ignored);
    }
    Rebuilt(const Rebuilt&) = delete;
    Rebuilt& operator=(const Rebuilt&) = delete;
    Rebuilt(Rebuilt&&) = delete;
    Rebuilt& operator=(Rebuilt&&) = delete;

    /// Its rows, read from a copy of its own: reading folds the journal in, and the damaged one
    /// stays as it was found.
    void take_damaged(const fs::path& aside) {
        for (const char* name : k_database_files)
            copy_durably(aside / name, work_ / name);
        try {
            Database from{work_ / k_database_files[0], Database::Access::read_write};
            report_.rows_read = pour_rows(from, *into_);
        } catch (const base::Failure&) {
            // Not even its first page: all has to come from elsewhere.
        }
    }

    void take_copies() {
        for (const fs::path& file : whole_copies(folder_, uid_of(*into_))) {
            Database from{file, Database::Access::immutable};
            const std::int64_t rows = pour_rows(from, *into_);
            if (rows > 0)
                report_.copies.push_back(file.filename().string());
            report_.rows_from_copies += rows;
        }
        know_recordings(*into_, folder_);
        drop_orphans(*into_);
    }

    /// Parts that are not as they were sealed: as a copy has them where one has them so. Modes are
    /// found again by an analysis, and a tap with its recording by what that says; facts may put
    /// the rest right.
    void heal_parts() {
        std::vector<PartName> broken;
        Seals{*into_}.each_broken([&broken](const PartName& part, bool was_sealed) {
            if (was_sealed) // a seal that was lost with its page says nothing of its part
                broken.push_back(part);
        });
        const std::vector<fs::path> copies =
            broken.empty() ? std::vector<fs::path>{} : whole_copies(folder_, uid_of(*into_));
        Transaction transaction{*into_};
        for (const PartName& part : broken) {
            const bool healed = std::ranges::any_of(copies, [&](const fs::path& file) {
                Database from{file, Database::Access::immutable};
                return take_part_as_sealed(from, *into_, part);
            });
            if (healed)
                ++report_.healed;
            else if (part.table == "mode_set" || forget_recording(part))
                remove_part(*into_, part);
            else
                open_.push_back({part, sum_sealed(part)});
        }
        into_->run(
            "DELETE FROM setting WHERE key = 'ledger.sealed'"); // sealed anew when it is opened
        transaction.commit();
        drop_orphans(*into_);
    }

    struct OpenPart {
        PartName part;
        std::int64_t sealed = 0;
    };
    /// Those that are still not as they were sealed.
    const std::vector<OpenPart>& open_parts() const { return open_; }

    void put_in_place() {
        into_.reset();
        put_database_in_place(work_ / "new.sqlite", folder_);
    }

private:
    std::int64_t sum_sealed(const PartName& part) {
        return into_
            ->first_integer("SELECT sum FROM seal WHERE part = ? AND id = ?", part.table, part.id)
            .value_or(0);
    }

    /// Makes a tap's recording unknown, so that it brings its tap back; false where there is none
    /// that is whole.
    bool forget_recording(const PartName& part) {
        if (part.table != "tap" && part.table != "wood_tap")
            return false;
        const auto hash = into_->first_text(
            fmt::format("SELECT recording FROM {} WHERE id = ?", part.table), part.id);
        if (!hash || !is_what_its_name_says(recording_file(folder_, *hash), *hash))
            return false;
        into_->execute("DELETE FROM recording WHERE hash = ?", *hash);
        return true;
    }

    fs::path folder_, work_;
    MendReport& report_;
    std::vector<OpenPart> open_;
    std::unique_ptr<Database> into_;
};

} // namespace

MendReport mend(const fs::path& folder) {
    MendReport report;
    std::vector<Rebuilt::OpenPart> open;
    const Condition condition = condition_of(folder);
    if (condition != Condition::whole) {
        make_folder_durably(folder);
        const auto lock = lock_or_fail(folder);
        report.was_gone = condition == Condition::gone;
        report.was_damaged = condition == Condition::damaged;
        Rebuilt rebuilt{folder, report};
        if (!report.was_gone) {
            report.laid_aside = lay_aside(folder);
            rebuilt.take_damaged(report.laid_aside);
        }
        rebuilt.take_copies();
        rebuilt.heal_parts();
        rebuilt.put_in_place();
        open = rebuilt.open_parts();
    }
    Store store{folder};
    report.found = store.rescue();
    Database database{folder / "ledger.sqlite", Database::Access::read_only};
    for (const auto& [part, sealed] : open)
        if (Seals{database}.sum_of(part) == sealed)
            ++report.healed; // by its facts
        else
            report.changed.push_back(fmt::format("{} {}", part.table, part.id));
    return report;
}

} // namespace platewright::ledger
