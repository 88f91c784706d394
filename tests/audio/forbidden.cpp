// The traps stand in the audio tests' own executable: they replace the allocator and the mutex of the
// whole program. Under a sanitizer, which replaces them too, only operator new is trapped.
#include "support/forbidden.hpp"

#include <cstdlib>
#include <dlfcn.h>
#include <mutex>
#include <new>
#include <pthread.h>

#if defined(__SANITIZE_THREAD__) || defined(__SANITIZE_ADDRESS__)
#define SANITIZED 1
#endif

namespace {

thread_local bool watching = false;
thread_local long allocations = 0;
thread_local long locks = 0;

} // namespace

void* operator new(std::size_t size) {
    if (watching)
        ++allocations;
    if (void* memory = std::malloc(size == 0 ? 1 : size))
        return memory;
    throw std::bad_alloc();
}
void operator delete(void* memory) noexcept { std::free(memory); }
void operator delete(void* memory, std::size_t) noexcept { std::free(memory); }

#ifndef SANITIZED
extern "C" int pthread_mutex_lock(pthread_mutex_t* mutex) noexcept {
    using Lock = int (*)(pthread_mutex_t*);
    static const Lock real = reinterpret_cast<Lock>(dlsym(RTLD_NEXT, "pthread_mutex_lock"));
    if (watching)
        ++locks;
    return real(mutex);
}
extern "C" void* __libc_malloc(std::size_t);
extern "C" void* malloc(std::size_t size) {
    if (watching)
        ++allocations;
    return __libc_malloc(size);
}
#endif

namespace platewright::test {

Forbidden forbidden_calls(const std::function<void()>& work) {
    allocations = 0;
    locks = 0;
    watching = true;
    work();
    watching = false;
    return {allocations, locks};
}

void lock_once() {
    std::mutex mutex;
    const std::lock_guard guard(mutex);
#ifdef SANITIZED
    ++locks;
#endif
}

} // namespace platewright::test
