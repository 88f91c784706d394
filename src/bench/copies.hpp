#pragma once
#include <chrono>
#include <filesystem>
#include <future>
#include <optional>
#include <string>

namespace platewright::bench {

/// Copies of the ledger's database, laid aside while the bench is in use: at its start, when a
/// session ends, when nothing more came for a while, and at closing. The database is checked first,
/// and a damaged one is not copied: the whole copies must not give way to it. All of it happens
/// aside: of a large ledger it takes seconds. Threads: one owner; works in a thread of its own,
/// which the destructor waits for.
class Copies {
public:
    /// `quiet`: after which a maker went to scrape, or home.
    explicit Copies(std::filesystem::path ledger_folder,
                    std::chrono::steady_clock::duration quiet = std::chrono::minutes(10))
        : folder_(std::move(ledger_folder)), quiet_(quiet) {}

    /// Something was kept or changed.
    void note_change();
    /// A copy is wanted now, if anything was changed since the last.
    void want() { wanted_ = true; }
    /// Begins one where it is wanted or due; never waits.
    void tend();
    /// Waits for the one under way, and makes a last one if anything was changed since.
    void close();

    /// What there is to say of it, once, when all is not well; never waits.
    std::optional<std::string> trouble();

private:
    void begin();
    void take_outcome();

    std::filesystem::path folder_;
    std::chrono::steady_clock::duration quiet_;
    std::future<bool> whole_;
    bool changed_ = true,
         wanted_ = true; ///< what an earlier program left uncopied is copied at the start
    std::chrono::steady_clock::time_point last_change_;
    std::optional<std::string> trouble_;
};

/// The same for a command that has ended: one copy. What fails is told in the sentence; empty: all
/// is well.
std::string lay_copy_aside(const std::filesystem::path& ledger_folder);

} // namespace platewright::bench
