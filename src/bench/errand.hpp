#pragma once
#include "bench/model/aside.hpp"
#include "ledger/store.hpp"

#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

namespace platewright::bench {

/// What came of an errand.
struct ErrandOutcome {
    bool good = true;
    std::string sentence;             ///< what was done, or why it was not and what to do
    std::vector<std::string> lines;   ///< what more there is to say, a line each
    std::filesystem::path file;       ///< that was written; empty: none
    bool needs_a_second_word = false; ///< it was only looked at: the same errand can be done now
};

/// Something done with files on the maker's word: printed, taken in, taken out. The program says
/// how, since it sees paper and files; the bench runs it.
struct Errand {
    std::string doing;   ///< "printing the sheet"
    bool writes = false; ///< into the ledger: nothing is heard meanwhile. Else on a ledger opened
                         ///< to be read, aside
    /// `progress` gets the share done and returns false where it is to leave off. What fails is
    /// thrown as base::Failure, or given as an outcome that is not good.
    std::function<ErrandOutcome(ledger::Store&, const ledger::Progress&)> act;
};

/// An errand as it is shown: under way, or done.
struct ErrandView {
    std::int64_t number = 0; ///< rises by one each
    std::string doing;
    double share = 0; ///< done, 0..1
    bool done = false;
    ErrandOutcome outcome; ///< once it is done
};

/// Runs errands one at a time; one asked for while another is under way takes its place.
/// Threads: the engine's; those that only read have a thread of their own, which the destructor
/// waits for. `woken` comes from it.
class Errands {
public:
    Errands(std::filesystem::path ledger_folder, std::function<void()> woken);

    /// Runs it here where it writes, and returns when it is done; else begins it aside. `moved` is
    /// called, from this thread, as an errand that writes goes on; it returns false where it is to
    /// be left off.
    void run(const Errand& errand, ledger::Store& store, const std::function<bool()>& moved);
    void stop() { aside_.call_off(); }
    /// The newest; null while none was asked for.
    std::shared_ptr<const ErrandView> view() const;

private:
    void show(const ErrandView& view);
    void run_aside(const Errand& errand);

    std::filesystem::path folder_;
    std::function<void()> woken_;
    std::int64_t number_ = 0;
    mutable std::mutex door_;
    std::shared_ptr<const ErrandView> view_;
    Aside<Errand> aside_; // last: it uses all of the above
};

} // namespace platewright::bench
