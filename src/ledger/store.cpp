#include "ledger/store.hpp"

#include "base/clock.hpp"
#include "base/failure.hpp"
#include "ledger/files/recording_file.hpp"
#include "ledger/store_impl.hpp"
#include "wording/say.hpp"

#include <cstdlib>
#include <string_view>
#include <utility>

namespace platewright::ledger {
namespace {

namespace fs = std::filesystem;
using wording::say;

} // namespace

void Store::Impl::try_to_write_again() {
    if (why_read_only.empty() || access_ == Access::read_only ||
        !state_of(folder / k_database_name))
        return;
    constexpr std::int64_t k_between_tries_ms = 1000;
    const std::int64_t now = base::now().ms_since_epoch;
    if (now >= tried_again_ms_ && now < tried_again_ms_ + k_between_tries_ms)
        return;
    tried_again_ms_ = now;
    const std::string before = std::exchange(why_read_only, {});
    try {
        lock.reset();
        claim(access_);
        if (why_read_only.empty())
            open_anew();
    } catch (const base::Failure&) {
        lock.reset();
        why_read_only = before;
    }
}

/// Closes and opens again; all as before where that fails, and it is tried again at the next
/// change.
void Store::Impl::open_anew() {
    const std::string before = why_read_only;
    const std::size_t notices_before = notices.size();
    auto old = std::move(database);
    lock.reset();
    recorder_.reset();
    try {
        why_read_only.clear();
        claim(access_);
        if (why_read_only.empty())
            open_for_writing();
        if (!why_read_only.empty()) // also where opening for writing found why not
            open_for_reading();
        is_lost_ = is_spoiled_ = false;
        if (why_read_only == before)
            notices.resize(notices_before);
    } catch (...) {
        database = std::move(old);
        why_read_only = before;
        throw;
    }
    if (owed_ && why_read_only.empty())
        write_again();
}

Transaction Store::Impl::change() {
    try_to_write_again();
    come_back();
    if (!why_read_only.empty())
        throw base::Failure{
            say("The ledger can only be read: {}. This was not kept.", why_read_only)};
    recorder_.reset();
    if (!witness) // an opening anew that failed took it
        witness.emplace(*database, folder);
    recorder_.emplace(*database);
    return Transaction{*database, Transaction::Kind::write, this};
}

void Store::Impl::before_commit() {
    witness->before_commit(); // its sums are part of the change
    recorded_ = recorder_->changes();
    recorder_.reset();
    standing_ = read_standing(*database); // of what is open, whatever failed before
    write_standing(*database, one_on(standing_, run_));
}

fs::path Store::Impl::recording_file(const std::string& hash) const {
    return ledger::recording_file(folder, hash);
}

Store::Store(const fs::path& folder, Access access)
    : impl_{std::make_unique<Impl>(folder, access)} {}
Store::~Store() = default;
Store::Store(Store&&) noexcept = default;
Store& Store::operator=(Store&&) noexcept = default;

bool Store::read_only() const {
    impl_->try_to_write_again();
    return !impl_->why_read_only.empty();
}
std::vector<std::string> Store::take_notices() { return std::exchange(impl_->notices, {}); }
const std::string& Store::why_read_only() const { return impl_->why_read_only; }
const fs::path& Store::folder() const { return impl_->folder; }

fs::path default_folder() {
    const auto value = [](const char* name) -> std::string_view {
        const char* text = std::getenv(name); // NOLINT(concurrency-mt-unsafe): nothing here sets it
        return text != nullptr ? text : "";
    };
    if (const auto own = value("PLATEWRIGHT_LEDGER"); !own.empty())
        return own;
    if (const auto data = value("XDG_DATA_HOME"); !data.empty())
        return fs::path{data} / "platewright";
    return fs::path{value("HOME")} / ".local" / "share" / "platewright";
}

} // namespace platewright::ledger
