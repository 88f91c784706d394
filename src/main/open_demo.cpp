#include "main/open_demo.hpp"

#include <array>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <optional>
#include <spawn.h>
#include <unistd.h>

#include "wording/say.hpp"

extern char** environ; // POSIX: for posix_spawn

namespace platewright::cli {
namespace {

namespace fs = std::filesystem;
using wording::say;

/// Beside an installed program, or in the sources it was built in.
std::optional<fs::path> filler(const fs::path& program) {
    std::error_code ignored;
    for (fs::path folder = program.parent_path(); folder.has_relative_path(); folder = folder.parent_path()) {
        for (const char* place : {"sample-audio", "share/platewright/sample-audio"}) {
            if (const fs::path file = folder / place / "fill_ledger.py"; fs::exists(file, ignored)) {
                return file;
            }
        }
    }
    return std::nullopt;
}

/// Made whole or not at all: entered under another name first.
constexpr const char* k_make_and_open =
    "rm -rf \"$3.new\" && python3 \"$2\" --program \"$1\" --ledger \"$3.new\" && mv \"$3.new\" \"$3\" && "
    "exec \"$1\" --ledger \"$3\"";
constexpr const char* k_open = "exec \"$1\" --ledger \"$3\"";

} // namespace

std::string open_demo() {
    std::error_code error;
    const fs::path program = fs::read_symlink("/proc/self/exe", error);
    const auto script = error ? std::nullopt : filler(program);
    if (!script)
        return std::string(say("The demo workshop's recordings are not beside this program: sh third_party/setup demo in "
                               "the sources opens it."));
    const char* home = std::getenv("HOME");
    const fs::path ledger = fs::path(home != nullptr ? home : ".") / "Platewright demo (invented)";
    const bool made = fs::exists(ledger / "ledger.sqlite", error);
    std::array<std::string, 7> words{"sh", "-c", made ? k_open : k_make_and_open, "demo",
                                     program.string(), script->string(), ledger.string()};
    std::array<char*, 8> pointers{};
    for (std::size_t i = 0; i < words.size(); ++i)
        pointers[i] = words[i].data();
    pid_t child = 0;
    if (const int failed = posix_spawn(&child, "/bin/sh", nullptr, nullptr, pointers.data(), environ); failed != 0)
        return say("The demo workshop could not be started: {}.", std::strerror(failed));
    return made ? say("The demo workshop (invented) opens in a window of its own, from {}.", ledger.string())
                : say("The demo workshop (invented) is being entered into {}; its window opens when it is done, in half "
                      "a minute.", ledger.string());
}

} // namespace platewright::cli
