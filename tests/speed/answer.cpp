// From the end of a tap's analysis window to its figures: how long a maker waits once the tap has
// rung out. Heard, kept (on this disk, synced) and pooled as the bench does it, over recordings of
// whole sessions.
//   answer LEDGER_FOLDER RECORDING…      (the folder is made; a fresh one is wanted)
#include "audio/recording.hpp"
#include "bench/workbench.hpp"
#include "ledger/store.hpp"

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <vector>

namespace {

using Clock = std::chrono::steady_clock;
double ms_since(Clock::time_point from) {
    return std::chrono::duration<double, std::milli>(Clock::now() - from).count();
}

void print(const char* what, std::vector<double> ms) {
    if (ms.empty())
        return;
    std::sort(ms.begin(), ms.end());
    std::printf("%-52s median %6.1f ms   worst %6.1f ms   (%zu taps)\n", what, ms[ms.size() / 2],
                ms.back(), ms.size());
}

} // namespace

int main(int argc, char** argv) {
    using namespace platewright;
    if (argc < 3) {
        std::fprintf(stderr, "usage: answer LEDGER_FOLDER RECORDING…\n");
        return 2;
    }
    ledger::Store store(argv[1]);
    const auto instrument = store.add(ledger::InstrumentRecord{.label = "speed"});
    const auto plate = store.add(ledger::PlateRecord{.instrument = instrument, .label = "speed"});
    bench::Workbench bench(store, {});
    std::vector<double> first, fitted, read, kept, pooled, whole;
    for (int i = 2; i < argc; ++i) {
        auto recording = audio::Recording::open(argv[i]);
        if (!recording) {
            std::fprintf(stderr, "%s\n", recording.fault().what.c_str());
            return 3;
        }
        bench.begin_session({.plate = plate, .begun = {i * 86'400'000LL}});
        bench::Listening listening(std::move(*recording), {}, bench::Listening::FirstReadings::yes);
        for (bool ended = false; !ended;) {
            const auto start = Clock::now();
            auto step = listening.step();
            const double fit_ms = ms_since(start);
            ended = step.ended;
            if (step.first_reading)
                first.push_back(fit_ms);
            for (const bench::HeardTap& tap : step.taps) {
                if (tap.tap.verdict != taps::Verdict::accepted)
                    continue;
                const auto showing = Clock::now();
                bench::HeardTap heard = tap;
                heard.picture = bench.picture_of(heard.tap);
                const auto shown = bench.view_with(*heard.picture);
                fitted.push_back(fit_ms);
                read.push_back(fit_ms + ms_since(showing));
                const auto keeping = Clock::now();
                bench.keep(std::move(heard));
                kept.push_back(ms_since(keeping));
                const auto pooling = Clock::now();
                bench.settle();
                pooled.push_back(ms_since(pooling));
                whole.push_back(ms_since(start));
            }
        }
    }
    print("a first reading of 0.15 s of ring, judged and fitted", first);
    print("the tap's end heard, judged and fitted", fitted);
    print("… and its own figures with spectrum published", read);
    print("kept: recording and row synced", kept);
    print("pooled with the session, named, trends", pooled);
    print("from the tap's end to accepted, with new figures", whole);
}
