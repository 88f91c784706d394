// What is thrown by the machinery beneath the program is told as a sentence, and logged as it was.
#include "support/catch.hpp"
#include "support/temporary_folder.hpp"
#include "wording/failing.hpp"

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <functional>
#include <iterator>
#include <new>
#include <stdexcept>

using namespace platewright;

namespace {

std::string told(const std::function<void()>& act) {
    try {
        act();
    } catch (...) {
        return wording::sentence_for_failure();
    }
    return {};
}

} // namespace

TEST_CASE(
    "what the program's own machinery throws is told in a sentence, and its words are logged") {
    const test::TemporaryFolder folder;
    setenv("XDG_STATE_HOME", folder.path().c_str(), 1);
    const auto logged = [&] {
        std::ifstream file(folder.path() / "platewright" / "log");
        return std::string(std::istreambuf_iterator<char>(file), {});
    };
    const std::string of_files =
        told([&] { static_cast<void>(std::filesystem::file_size(folder.path() / "not there")); });
    CHECK_THAT(of_files,
               ContainsSubstring("not there") && ContainsSubstring("nothing was changed"));
    CHECK_THAT(logged(), ContainsSubstring("No such file"));
    const std::string of_memory = told([] { throw std::bad_alloc(); });
    CHECK_THAT(of_memory, ContainsSubstring("not enough memory"));
    const std::string of_any = told([] { throw std::out_of_range("vector::_M_range_check"); });
    CHECK_THAT(of_any, ContainsSubstring("what was kept is safe") &&
                           ContainsSubstring((folder.path() / "platewright" / "log").string()));
    CHECK_THAT(logged(), ContainsSubstring("_M_range_check"));
    for (const std::string& sentence : {of_files, of_memory, of_any})
        for (const char* raw : {"filesystem error", "bad_alloc", "std::", "_M_", "what()"})
            CHECK(sentence.find(raw) == std::string::npos);
    unsetenv("XDG_STATE_HOME");
}
