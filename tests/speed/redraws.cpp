// Pictures a second that the window can draw, each of another snapshot, as fast as it goes.
//   redraws [SECONDS]      (a display is wanted; Xvfb and LP_NUM_THREADS=1 for software GL on one
//   core)
#include "screen/window.hpp"
#include "support/sample_bench.hpp"

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <ctime>

int main(int argc, char** argv) {
    using namespace platewright;
    using Clock = std::chrono::steady_clock;
    const double seconds = argc > 1 ? std::atof(argv[1]) : 10.0;
    auto plate = test::full_plate();
    int asked = 0;
    Clock::time_point begun{};
    std::clock_t used_before = 0;
    const auto next = [&] {
        // The first are spent on letters and settling.
        if (asked == 60) {
            begun = Clock::now();
            used_before = std::clock();
        }
        const double passed = std::chrono::duration<double>(Clock::now() - begun).count();
        if (asked > 60 && passed > seconds) {
            // On a machine with other work its own share of the processor tells more than the
            // clock.
            const double used = static_cast<double>(std::clock() - used_before) / CLOCKS_PER_SEC;
            std::printf("%d pictures in %.1f s: %.1f a second, %.1f a second of processor time\n",
                        asked - 60, passed, (asked - 60) / passed, (asked - 60) / used);
            std::exit(0);
        }
        auto now = test::sample_snapshot(plate);
        now.input.level_dbfs = -60.0 + 3.0 * (asked % 16); // the meter looks different each time
        ++asked;
        screen::wake_window();
        return std::make_shared<const bench::Snapshot>(std::move(now));
    };
    return screen::run_window({next, [](const bench::Command&) {}, {}, {}});
}
