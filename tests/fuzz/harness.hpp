#pragma once
/// What every harness shares. A harness is one function that is given bytes from outside; it lets
/// pass what the reader may do with bad input (a Fault, a base::Failure) and stops on all else.

#include "support/temporary_folder.hpp"

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <span>
#include <string_view>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace platewright::fuzz {

inline std::string_view as_text(std::span<const std::uint8_t> bytes) {
    return {reinterpret_cast<const char*>(bytes.data()), bytes.size()};
}

/// A promise of the reader; broken, the input is kept by the fuzzer.
inline void hold(bool promise) {
    if (!promise)
        std::abort();
}

/// The bytes as a file, in memory where the machine has such a file system.
inline void write_file(const std::filesystem::path& file, std::span<const std::uint8_t> bytes) {
    std::ofstream out(file, std::ios::binary | std::ios::trunc);
    out.write(reinterpret_cast<const char*>(bytes.data()),
              static_cast<std::streamsize>(bytes.size()));
}

} // namespace platewright::fuzz
