#include "ledger/tables/change_journal.hpp"

#include "base/failure.hpp"
#include "wording/say.hpp"

#include <sqlite3.h>

#include <cstring>

namespace platewright::ledger {
namespace {

[[noreturn]] void fail_to_note(int code) {
    throw base::Failure{
        wording::say("The ledger could not do this, and nothing was changed. The log says why."),
        std::string{"recording a change: "} + sqlite3_errstr(code)};
}

/// A setting may be another one there; whatever else does not fit belongs to another history.
int on_conflict(void*, int conflict, sqlite3_changeset_iter* change) {
    const char* table = nullptr;
    int columns = 0, kind = 0, indirect = 0;
    sqlite3changeset_op(change, &table, &columns, &kind, &indirect);
    if (table == nullptr || std::strcmp(table, "setting") != 0)
        return SQLITE_CHANGESET_ABORT;
    return conflict == SQLITE_CHANGESET_DATA || conflict == SQLITE_CHANGESET_CONFLICT
               ? SQLITE_CHANGESET_REPLACE
               : SQLITE_CHANGESET_OMIT;
}

} // namespace

ChangeRecorder::ChangeRecorder(Database& database) {
    int code = sqlite3session_create(database.handle(), "main", &session_);
    if (code == SQLITE_OK)
        code = sqlite3session_attach(session_, nullptr);
    if (code != SQLITE_OK)
        fail_to_note(code);
}

ChangeRecorder::~ChangeRecorder() {
    if (session_ != nullptr)
        sqlite3session_delete(session_);
}

std::vector<std::byte> ChangeRecorder::changes() {
    int size = 0;
    void* bytes = nullptr;
    if (const int code = sqlite3session_changeset(session_, &size, &bytes); code != SQLITE_OK)
        fail_to_note(code);
    const auto* first = static_cast<const std::byte*>(bytes);
    std::vector<std::byte> changes(first, first + size);
    sqlite3_free(bytes);
    return changes;
}

void ChangeJournal::add(std::int64_t number, std::vector<std::byte> changes) {
    change_bytes_ += changes.size();
    changes_.emplace_back(number, std::move(changes));
    for (; change_bytes_ > k_most_bytes; changes_.pop_front())
        change_bytes_ -= changes_.front().second.size();
}

void ChangeJournal::take_back_last() {
    if (changes_.empty())
        return;
    change_bytes_ -= changes_.back().second.size();
    changes_.pop_back();
}

void ChangeJournal::add_recording(std::string hash, std::vector<std::byte> bytes) {
    recording_bytes_ += bytes.size();
    recordings_.emplace_back(std::move(hash), std::move(bytes));
    for (; recording_bytes_ > k_most_bytes; recordings_.pop_front())
        recording_bytes_ -= recordings_.front().second.size();
}

bool ChangeJournal::make_again(Database& database, std::int64_t from) const {
    for (const auto& [number, bytes] : changes_) {
        if (number <= from || bytes.empty())
            continue;
        auto copy = bytes; // SQLite asks for a pointer to bytes that could be changed
        const int code = sqlite3changeset_apply(database.handle(), static_cast<int>(copy.size()),
                                                copy.data(), nullptr, on_conflict, nullptr);
        if (code != SQLITE_OK)
            return false;
    }
    Statement strays{database, "PRAGMA foreign_key_check"};
    return !strays.step();
}

} // namespace platewright::ledger
