#pragma once
/// The files of a database as they are moved about: kept aside, copied, put in place.

#include "ledger/files/file_safety.hpp"

#include <array>
#include <filesystem>
#include <memory>

namespace platewright::ledger {

inline constexpr std::array<const char*, 4> k_database_files{
    "ledger.sqlite", "ledger.sqlite-wal", "ledger.sqlite-shm", "ledger.sqlite-journal"};

/// The claim on a ledger's folder. Throws base::Failure where another program has it.
std::unique_ptr<FolderLock> lock_or_fail(const std::filesystem::path& folder);

/// Copies a file and syncs it; nothing where there is none. Fails: base::Failure.
void copy_durably(const std::filesystem::path& from, const std::filesystem::path& to);

/// Copies a ledger's database with its journal into a new folder `laid-aside/2026-03-14-1`, which
/// it gives; nothing where there is no database.
std::filesystem::path lay_aside(const std::filesystem::path& folder);

/// An empty folder for what is being made; to be removed by the caller.
std::filesystem::path work_folder(const std::filesystem::path& folder);

/// Puts a database in the place of the ledger's, whose journal goes: it was laid aside with it.
void put_database_in_place(const std::filesystem::path& file, const std::filesystem::path& folder);

} // namespace platewright::ledger
