#include "base/log.hpp"
#include "support/catch.hpp"
#include "support/temporary_folder.hpp"

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>
#include <sys/stat.h>

using namespace platewright;
using namespace platewright::base;

namespace {

struct StateFolder {
    StateFolder() { ::setenv("XDG_STATE_HOME", folder.path().c_str(), 1); }
    ~StateFolder() { ::unsetenv("XDG_STATE_HOME"); }
    StateFolder(const StateFolder&) = delete;
    StateFolder& operator=(const StateFolder&) = delete;
    test::TemporaryFolder folder;
};

std::string read(const std::filesystem::path& file) {
    std::ifstream in{file, std::ios::binary};
    return {std::istreambuf_iterator<char>(in), {}};
}

} // namespace

TEST_CASE("what is behind a sentence stands in the log, a line each, and acts on no terminal") {
    const StateFolder state;
    log("The disk is full.", "ledger.sqlite: No space\nleft \x1B[31m");
    log("Another.", "");
    const std::string text = read(log_file());
    CHECK(log_file() == state.folder.path() / "platewright" / "log");
    CHECK(std::count(text.begin(), text.end(), '\n') == 2);
    CHECK_THAT(text, ContainsSubstring(
                         "The disk is full. [ledger.sqlite: No space\uFFFDleft \uFFFD[31m]"));
}

TEST_CASE("a log stays small however much is written to it, and one that can't be written is done "
          "without") {
    const StateFolder state;
    for (int i = 0; i < 700; ++i)
        log("A sentence.", std::string(3000, 'x'));
    CHECK(std::filesystem::file_size(log_file()) <= k_log_bytes + 4097);
    CHECK(std::filesystem::file_size(log_file().string() + ".old") <= k_log_bytes + 4097);
    std::filesystem::remove(log_file());
    REQUIRE(::mkfifo(log_file().c_str(), 0600) == 0);
    log("A sentence.", "nobody reads the pipe");
    std::filesystem::remove(log_file());
    std::filesystem::create_directory(log_file());
    log("A sentence.", "a folder in its place");
}
