// The traps stand in the audio tests' own executable: they replace the allocator and the mutex of
// the whole program. A sanitizer has replaced them already; there its own hook counts the
// allocations.
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

#ifdef SANITIZED
// Declared here: Debian's g++ has the function in its run-time library, and no header for it.
extern "C" int __sanitizer_install_malloc_and_free_hooks(void (*allocated)(const volatile void*,
                                                                           std::size_t),
                                                         void (*released)(const volatile void*));
namespace {
void count_allocation(const volatile void*, std::size_t) {
    if (watching)
        ++allocations;
}
void ignore_release(const volatile void*) {}
const int hooked = __sanitizer_install_malloc_and_free_hooks(count_allocation, ignore_release);
} // namespace
#else
void* operator new(std::size_t size) {
    if (watching)
        ++allocations;
    if (void* memory = std::malloc(size == 0 ? 1 : size))
        return memory;
    throw std::bad_alloc();
}
void operator delete(void* memory) noexcept { std::free(memory); }
void operator delete(void* memory, std::size_t) noexcept { std::free(memory); }

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
