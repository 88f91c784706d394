#pragma once
#include <filesystem>
#include <future>
#include <optional>
#include <string>

namespace platewright::bench {

/// The ledger's database checked and today's copy made, aside: of a large ledger it takes seconds. A
/// damaged one is not copied: the whole copies must not give way to it.
/// Threads: one owner; works in a thread of its own, which the destructor waits for.
class DailyCopy {
public:
    void begin(const std::filesystem::path& ledger_folder);

    /// What there is to say of it, once, when it is done and all is not well; never waits.
    std::optional<std::string> trouble();

private:
    std::future<bool> whole_;
};

} // namespace platewright::bench
