#pragma once
// A sound server of the test's own, whose only input hears what is played there, and which can be
// taken away.
#include "support/catch.hpp"

#include <array>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <fcntl.h>
#include <filesystem>
#include <fstream>
#include <string>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>
#include <vector>

namespace platewright::test {

/// Starts a program that says nothing; its process.
inline pid_t start(std::vector<std::string> words) {
    const pid_t child = ::fork();
    if (child != 0)
        return child;
    const int nowhere = ::open("/dev/null", O_RDWR);
    for (const int stream : {0, 1, 2})
        ::dup2(nowhere, stream);
    std::vector<char*> arguments;
    for (std::string& word : words)
        arguments.push_back(word.data());
    arguments.push_back(nullptr);
    ::execvp(arguments.front(), arguments.data());
    ::_exit(127);
}

class SoundServer {
public:
    explicit SoundServer(const std::filesystem::path& folder) : folder_(folder) {
        std::filesystem::create_directories(folder);
        std::ofstream(folder / ".asoundrc")
            << "pcm.!default { type pulse }\nctl.!default { type pulse }\n";
        const pid_t child = ::fork();
        if (child == 0) {
            lead_here();
            ::_exit(run());
        }
        process_ = child;
        REQUIRE(answers());
    }
    ~SoundServer() {
        take_away();
        ::waitpid(process_, nullptr, 0);
    }
    SoundServer(const SoundServer&) = delete;
    SoundServer& operator=(const SoundServer&) = delete;

    /// From now on this process, and what it starts, hears and plays there.
    void lead_here() const {
        ::setenv("HOME", folder_.c_str(), 1);
        ::setenv("XDG_RUNTIME_DIR", folder_.c_str(), 1);
        ::setenv("PULSE_SERVER", ("unix:" + socket()).c_str(), 1);
        ::setenv("PULSE_COOKIE", (folder_ / "cookie").c_str(), 1);
        ::setenv("PULSE_SINK", "bench", 1);
        ::setenv("PULSE_SOURCE", "bench.monitor", 1);
    }
    /// At once, as a plug that is pulled.
    void take_away() const { ::kill(process_, SIGKILL); }

private:
    std::string socket() const { return (folder_ / "socket").string(); }
    int run() const {
        ::execlp(
            "pulseaudio", "pulseaudio", "-n", "--daemonize=no", "--exit-idle-time=-1",
            "--use-pid-file=no", "--high-priority=no", "--realtime=no", "--disable-shm=yes",
            "--log-target=null",
            ("--load=module-native-protocol-unix socket=" + socket() + " auth-anonymous=1").c_str(),
            "--load=module-null-sink sink_name=bench rate=48000 channels=1 format=s24le",
            static_cast<char*>(nullptr));
        return 127;
    }
    bool answers() const {
        const auto until = std::chrono::steady_clock::now() + std::chrono::seconds(20);
        while (!std::filesystem::exists(socket()) && std::chrono::steady_clock::now() < until)
            std::this_thread::sleep_for(std::chrono::milliseconds(20));
        return std::filesystem::exists(socket());
    }
    std::filesystem::path folder_;
    pid_t process_ = 0;
};

} // namespace platewright::test
