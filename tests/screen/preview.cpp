// The window on a hand-made snapshot: for looking at views without an engine, a ledger or a
// microphone.
#include "screen/window.hpp"
#include "support/sample_bench.hpp"

#include <string_view>

int main(int count, char** words) {
    using namespace platewright;
    auto plate = test::sample_plate(9);
    test::compare_with_reference(*plate);
    auto now = test::sample_snapshot(plate);
    const std::string_view kind = count > 1 ? words[1] : "";
    if (kind == "empty") {
        now = test::sample_snapshot(nullptr);
    } else if (kind == "refused") {
        now.tap->record.verdict = taps::Verdict::struck_twice;
        now.notices.push_back({1, true,
                               "The disk is full: the last tap was not kept. Free some space; all "
                               "earlier taps are safe."});
    } else if (kind == "first") {
        now = test::sample_snapshot(test::sample_plate(0));
    }
    now.executed = static_cast<std::uint64_t>(-1); // nobody executes: nothing is waited for
    const auto snapshot = std::make_shared<const bench::Snapshot>(now);
    return screen::run_window({[snapshot] { return snapshot; }, [](const bench::Command&) {}});
}
