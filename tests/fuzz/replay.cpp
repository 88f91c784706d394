// Plays kept inputs through a harness under any compiler: what the fuzzer found stays found.
#include "fuzz/harness.hpp"

#include <algorithm>
#include <cstdio>
#include <iterator>
#include <vector>

namespace {

std::vector<std::filesystem::path> files_in(const std::filesystem::path& folder) {
    std::vector<std::filesystem::path> files;
    for (const auto& entry : std::filesystem::directory_iterator(folder))
        files.push_back(entry.path());
    std::ranges::sort(files);
    return files;
}

} // namespace

int main(int count, char** words) {
    if (count != 2) {
        std::fputs("usage: replay FOLDER\n", stderr);
        return 2;
    }
    const auto files = files_in(words[1]);
    for (const auto& file : files) {
        std::printf("%s\n", file.filename().c_str()); // the last one named is the one that broke it
        std::fflush(stdout);
        std::ifstream in(file, std::ios::binary);
        const std::vector<char> bytes{std::istreambuf_iterator<char>(in), {}};
        LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
    }
    return files.empty() ? 1 : 0; // an empty corpus would prove nothing
}
