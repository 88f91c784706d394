#pragma once
#include <functional>

namespace platewright::test {

/// What the law of the audio callback forbids, counted while `work` ran on this thread: calls of
/// operator new, malloc and its kin (`allocations`), and of pthread_mutex_lock (`locks`).
struct Forbidden {
    long allocations = 0;
    long locks = 0;
};
Forbidden forbidden_calls(const std::function<void()>& work);

/// Locks and unlocks a mutex, to prove that the trap springs.
void lock_once();

} // namespace platewright::test
