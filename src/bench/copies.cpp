#include "bench/copies.hpp"

#include "base/clock.hpp"
#include "base/failure.hpp"
#include "ledger/mend/backups.hpp"
#include "wording/say.hpp"

#include <utility>

namespace platewright::bench {
namespace {

using wording::say;

bool check_and_copy(const std::filesystem::path& folder) {
    const bool whole = ledger::is_whole(folder);
    if (whole)
        ledger::back_up(folder, base::now());
    return whole;
}

std::string damaged() {
    return say(
        "The ledger's database is damaged. Close the program, run platewright check, and do as it "
        "says; the recordings and earlier copies are untouched.");
}

std::string not_copied() {
    return say(
        "A copy of the ledger's database could not be laid aside; the ledger itself is safe. Check "
        "the room on its disk.");
}

} // namespace

void Copies::note_change() {
    changed_ = true;
    last_change_ = std::chrono::steady_clock::now();
}

void Copies::tend() {
    take_outcome();
    const bool is_quiet = std::chrono::steady_clock::now() - last_change_ > quiet_;
    if (changed_ && (wanted_ || is_quiet) && !whole_.valid())
        begin();
}

void Copies::begin() {
    changed_ = wanted_ = false;
    whole_ = std::async(std::launch::async, check_and_copy, folder_);
}

void Copies::close() {
    if (whole_.valid())
        whole_.wait();
    take_outcome();
    if (!changed_)
        return;
    begin();
    whole_.wait();
    take_outcome();
}

void Copies::take_outcome() {
    if (!whole_.valid() || whole_.wait_for(std::chrono::seconds(0)) != std::future_status::ready)
        return;
    try {
        if (!whole_.get())
            trouble_ = damaged();
    } catch (const base::Failure&) {
        trouble_ = not_copied();
    }
}

std::optional<std::string> Copies::trouble() {
    take_outcome();
    return std::exchange(trouble_, std::nullopt);
}

std::string lay_copy_aside(const std::filesystem::path& ledger_folder) {
    try {
        return check_and_copy(ledger_folder) ? std::string() : damaged();
    } catch (const base::Failure&) {
        return not_copied();
    }
}

} // namespace platewright::bench
