#include "main/run_self.hpp"

#include "base/failure.hpp"

#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

extern char** environ; // POSIX: for posix_spawn

namespace platewright::cli {
namespace {

/// What the child finds in place of this program's input and output.
class Silenced {
public:
    explicit Silenced(bool output) {
        posix_spawn_file_actions_init(&actions_);
        posix_spawn_file_actions_addopen(&actions_, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
        if (output)
            posix_spawn_file_actions_addopen(&actions_, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
    }
    ~Silenced() { posix_spawn_file_actions_destroy(&actions_); }
    Silenced(const Silenced&) = delete;
    Silenced& operator=(const Silenced&) = delete;
    const posix_spawn_file_actions_t* get() const { return &actions_; }

private:
    posix_spawn_file_actions_t actions_{};
};

pid_t spawn(std::vector<std::string> words, bool silent) {
    std::vector<char*> pointers;
    for (std::string& word : words)
        pointers.push_back(word.data());
    pointers.push_back(nullptr);
    const Silenced actions(silent);
    pid_t child = 0;
    if (const int failed = posix_spawnp(&child, words.front().c_str(), actions.get(), nullptr,
                                        pointers.data(), environ);
        failed != 0)
        throw base::Failure("The program could not be started a second time; nothing was changed.",
                            std::strerror(failed));
    return child;
}

std::vector<std::string> self_with(std::vector<std::string> words) {
    words.insert(words.begin(), own_program().string());
    return words;
}

int wait_for(pid_t child) {
    int status = 0;
    while (waitpid(child, &status, 0) < 0 && errno == EINTR) {
    }
    return WIFEXITED(status) ? WEXITSTATUS(status) : 1;
}

} // namespace

std::filesystem::path own_program() {
    std::error_code error;
    const std::filesystem::path program = std::filesystem::read_symlink("/proc/self/exe", error);
    if (error)
        throw base::Failure("The system does not say where this program lies; nothing was changed.",
                            error.message());
    return program;
}

int run_self(const std::vector<std::string>& words) {
    return wait_for(spawn(self_with(words), true));
}
int run_self_aloud(const std::vector<std::string>& words) {
    return wait_for(spawn(self_with(words), false));
}

void start_self(const std::vector<std::string>& words) { spawn(self_with(words), false); }
void start_program(const std::vector<std::string>& words) { spawn(words, false); }

} // namespace platewright::cli
