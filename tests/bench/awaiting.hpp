#pragma once
#include "bench/engine.hpp"

#include <chrono>
#include <thread>

namespace platewright::test {

/// Waits until something comes true, half a minute at the most; gives whether it did.
template <class Condition>
bool comes_true(const Condition& met) {
    const auto until = std::chrono::steady_clock::now() + std::chrono::seconds(30);
    while (!met() && std::chrono::steady_clock::now() < until)
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
    return met();
}

/// Waits until the engine shows what is asked for; gives that snapshot, and the newest where it
/// never did.
template <class Condition>
std::shared_ptr<const bench::Snapshot> shown_in_time(const bench::Engine& engine,
                                                     const Condition& met) {
    auto snapshot = engine.snapshot();
    comes_true([&] {
        snapshot = engine.snapshot();
        return met(*snapshot);
    });
    return snapshot;
}

} // namespace platewright::test
