#include "base/log.hpp"

#include "base/clock.hpp"
#include "base/utf8.hpp"

#include <algorithm>
#include <cstdlib>
#include <fcntl.h>
#include <fmt/format.h>
#include <string>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>

namespace platewright::base {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t k_longest_line = 4096;

fs::path folder_of(const char* variable) {
    const char* value =
        std::getenv(variable); // NOLINT(concurrency-mt-unsafe): nothing here sets it
    return value != nullptr && *value == '/' ? fs::path{value} : fs::path{};
}

} // namespace

fs::path log_file() {
    if (const fs::path state = folder_of("XDG_STATE_HOME"); !state.empty())
        return state / "platewright" / "log";
    const fs::path home = folder_of("HOME");
    return home.empty() ? fs::path{} : home / ".local" / "state" / "platewright" / "log";
}

void log(std::string_view said, std::string_view detail) {
    const fs::path file = log_file();
    std::error_code error;
    if (file.empty() || (!fs::is_directory(file.parent_path(), error) &&
                         !fs::create_directories(file.parent_path(), error)))
        return;
    if (fs::file_size(file, error) > k_log_bytes && !error)
        fs::rename(file, file.string() + ".old", error);
    std::string line = fmt::format("{} {} [{}]", to_iso(now()), harmless(said), harmless(detail));
    line.resize(std::min(line.size(), k_longest_line));
    line += '\n';
    // Without waiting and through no link: a pipe or a link of this name is nobody's log.
    const int descriptor = ::open(
        file.c_str(), O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK, 0600);
    if (descriptor < 0)
        return;
    [[maybe_unused]] const ssize_t written = ::write(descriptor, line.data(), line.size());
    ::close(descriptor);
}

} // namespace platewright::base
