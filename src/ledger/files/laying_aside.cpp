#include "ledger/files/laying_aside.hpp"

#include "base/clock.hpp"
#include "base/failure.hpp"
#include "wording/say.hpp"

#include <fmt/format.h>
#include <string>
#include <system_error>

namespace platewright::ledger {
namespace {

namespace fs = std::filesystem;
using wording::say;

} // namespace

std::unique_ptr<FolderLock> lock_or_fail(const fs::path& folder) {
    auto lock = std::make_unique<FolderLock>(folder / "ledger.lock");
    if (lock->outcome() == FolderLock::Outcome::held_by_another)
        throw base::Failure{say("Another program has the ledger open, so nothing was "
                                "put back. Close it and do this again.")};
    return lock;
}

void copy_durably(const fs::path& from, const fs::path& to) {
    std::error_code error;
    if (!fs::exists(from, error))
        return;
    fs::copy_file(from, to, fs::copy_options::overwrite_existing, error);
    if (error)
        throw base::Failure{
            say("A file of the ledger could not be written, so this was not kept. Check "
                "the disk; everything shown as kept before is safe."),
            to.string() + ": " + error.message()};
    sync_file(to);
}

fs::path lay_aside(const fs::path& folder) {
    std::error_code error;
    if (!fs::exists(folder / k_database_files[0], error))
        return {};
    constexpr std::size_t k_date = 10;
    const std::string day = base::to_iso(base::now()).substr(0, k_date);
    fs::path place;
    int number = 0;
    do
        place = folder / "laid-aside" / fmt::format("{}-{}", day, ++number);
    while (fs::exists(place, error));
    make_folder_durably(place);
    for (const char* name : k_database_files)
        copy_durably(folder / name, place / name);
    return place;
}

fs::path work_folder(const fs::path& folder) {
    fs::path work = folder / "laid-aside" / "unfinished";
    std::error_code ignored; // of an earlier attempt
    fs::remove_all(work, ignored);
    make_folder_durably(work);
    return work;
}

void put_database_in_place(const fs::path& file, const fs::path& folder) {
    sync_file(file);
    std::error_code ignored;
    for (std::size_t i = 1; i < k_database_files.size(); ++i)
        fs::remove(folder / k_database_files.at(i), ignored);
    rename_durably(file, folder / k_database_files[0]);
}

} // namespace platewright::ledger
