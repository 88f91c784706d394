#include "ledger/faults.hpp"

#include <atomic>
#include <cerrno>
#include <cstdio>
#include <dlfcn.h>
#include <sys/file.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <sys/types.h>
#include <unistd.h>

namespace {

std::atomic<bool> armed{false}, has_struck{false}, lasts{false};
std::atomic<bool> lacks_shared_memory{false}, lacks_locks{false}, lacks_reading{false};
std::atomic<int> calls_left{0}, error_number{0};

bool fails() {
    if (!armed)
        return false;
    if (has_struck ? !lasts : calls_left-- > 0)
        return false;
    has_struck = true;
    errno = error_number;
    return true;
}

template <class Function>
Function* real(const char* name) {
    return reinterpret_cast<Function*>(::dlsym(RTLD_NEXT, name));
}

} // namespace

namespace platewright::test {

void Faults::arm(int calls, int error, bool lasting) {
    calls_left = calls;
    error_number = error;
    lasts = lasting;
    has_struck = false;
    armed = true;
}

void Faults::disarm() { armed = false; }

bool Faults::struck() { return has_struck; }

void Faults::lack_shared_memory(bool lacking) { lacks_shared_memory = lacking; }
void Faults::lack_locks(bool lacking) { lacks_locks = lacking; }
void Faults::lack_reading(bool lacking) { lacks_reading = lacking; }

} // namespace platewright::test

extern "C" {

ssize_t write(int file, const void* data, size_t size) {
    static auto* const call = real<ssize_t(int, const void*, size_t)>("write");
    return fails() ? -1 : call(file, data, size);
}

ssize_t pread(int file, void* data, size_t size, off_t at) {
    static auto* const call = real<ssize_t(int, void*, size_t, off_t)>("pread");
    if (lacks_reading) {
        errno = EIO;
        return -1;
    }
    return call(file, data, size, at);
}

ssize_t pread64(int file, void* data, size_t size, off64_t at) {
    static auto* const call = real<ssize_t(int, void*, size_t, off64_t)>("pread64");
    if (lacks_reading) {
        errno = EIO;
        return -1;
    }
    return call(file, data, size, at);
}

ssize_t pwrite(int file, const void* data, size_t size, off_t at) {
    static auto* const call = real<ssize_t(int, const void*, size_t, off_t)>("pwrite");
    return fails() ? -1 : call(file, data, size, at);
}

ssize_t pwrite64(int file, const void* data, size_t size, off64_t at) {
    static auto* const call = real<ssize_t(int, const void*, size_t, off64_t)>("pwrite64");
    return fails() ? -1 : call(file, data, size, at);
}

int fsync(int file) {
    static auto* const call = real<int(int)>("fsync");
    return fails() ? -1 : call(file);
}

int fdatasync(int file) {
    static auto* const call = real<int(int)>("fdatasync");
    return fails() ? -1 : call(file);
}

int ftruncate(int file, off_t size) noexcept {
    static auto* const call = real<int(int, off_t)>("ftruncate");
    return fails() ? -1 : call(file, size);
}

int ftruncate64(int file, off64_t size) noexcept {
    static auto* const call = real<int(int, off64_t)>("ftruncate64");
    return fails() ? -1 : call(file, size);
}

int rename(const char* from, const char* to) noexcept {
    static auto* const call = real<int(const char*, const char*)>("rename");
    return fails() ? -1 : call(from, to);
}

int mkdir(const char* name, mode_t mode) noexcept {
    static auto* const call = real<int(const char*, mode_t)>("mkdir");
    return fails() ? -1 : call(name, mode);
}

void* mmap64(void* at, size_t size, int access, int kind, int file, off64_t from) noexcept {
    static auto* const call = real<void*(void*, size_t, int, int, int, off64_t)>("mmap64");
    if (lacks_shared_memory && file >= 0 && (kind & MAP_SHARED) != 0) {
        errno = ENODEV;
        return MAP_FAILED;
    }
    return call(at, size, access, kind, file, from);
}

int flock(int file, int what) noexcept {
    static auto* const call = real<int(int, int)>("flock");
    if (lacks_locks) {
        errno = ENOLCK;
        return -1;
    }
    return call(file, what);
}

} // extern "C"
