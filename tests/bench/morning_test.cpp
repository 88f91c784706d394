// A busy morning, stopped at any instant: what was shown as kept is in the ledger.
#include "awaiting.hpp"
#include "bench/engine.hpp"
#include "ledger/mend/mend.hpp"
#include "morning.hpp"
#include "sound_server.hpp"
#include "support/temporary_folder.hpp"

#include <csignal>
#include <fcntl.h>
#include <random>
#include <set>
#include <sys/resource.h>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

using namespace platewright;
using namespace std::chrono_literals;
using test::TemporaryFolder;

namespace {

namespace fs = std::filesystem;

enum class Trouble { none, disk_full, older_database, folder_gone, input_gone };

struct Morning {
    fs::path folder, sound;
    Trouble trouble = Trouble::none;
    unsigned dies_after_ms = 0;               ///< it has begun to listen, or its input is gone
    const test::SoundServer* input = nullptr; ///< where the strikes are heard, in place of a replay
};

/// Puts the database as it was yesterday in the place of the one that is open, as a sync program
/// does.
void put_older_back(const fs::path& folder) {
    fs::copy_file(folder / "older.sqlite", folder / "ledger.sqlite.new",
                  fs::copy_options::overwrite_existing);
    fs::rename(folder / "ledger.sqlite.new", folder / "ledger.sqlite");
}

/// Kills this very process, whatever its other threads are at.
void die_later(unsigned ms) {
    std::thread([ms] {
        std::this_thread::sleep_for(std::chrono::milliseconds(ms));
        ::kill(::getpid(), SIGKILL);
    }).detach();
}

void make_trouble(const Morning& morning) {
    switch (morning.trouble) {
    case Trouble::none:
        break;
    case Trouble::disk_full: { // no file may grow any more
        const rlimit none{4096, 4096};
        ::setrlimit(RLIMIT_FSIZE, &none);
        break;
    }
    case Trouble::older_database:
        put_older_back(morning.folder);
        break;
    case Trouble::folder_gone:
        fs::rename(morning.folder, morning.folder.string() + "-elsewhere");
        break;
    case Trouble::input_gone:
        morning.input->take_away();
        die_later(morning.dies_after_ms);
        break;
    }
}

/// Listens to the strikes and says through the pipe which are shown as kept.
[[noreturn]] void listen(const Morning& morning, int pipe) {
    ::signal(SIGXFSZ, SIG_IGN);
    if (morning.input != nullptr)
        morning.input->lead_here();
    bench::Engine engine({.ledger_folder = morning.folder,
                          .replay = morning.input != nullptr ? fs::path() : morning.sound,
                          .listen_at_once = false});
    engine.send(bench::command::OpenPlate{1});
    engine.send(bench::command::Listen{true});
    test::shown_in_time(engine, [](const bench::Snapshot& now) {
        return now.input.state == bench::InputState::running;
    });
    if (morning.input == nullptr) {
        die_later(morning.dies_after_ms);
    } else { // a busy machine may spoil some of what is played: again then, while this one lives
        test::start(
            {"sh", "-c", "while kill -0 $PPID; do paplay '" + morning.sound.string() + "'; done"});
        die_later(100'000);
    }
    std::int64_t last = -1;
    int kept = 0;
    for (;;) {
        const auto now = engine.snapshot();
        if (now->tap && now->tap->fate == bench::TapFate::kept &&
            now->tap->record.onset_frame != last) {
            last = now->tap->record.onset_frame;
            if (::write(pipe, &last, sizeof last) < 0)
                ::_exit(1);
            if (++kept == 2)
                make_trouble(morning);
        }
        if (now->input.state == bench::InputState::ended)
            ::_exit(0);
        std::this_thread::sleep_for(1ms);
    }
}

struct Running {
    pid_t child = 0;
    int pipe = 0;
    Morning morning;
};

Running begin(const Morning& morning) {
    std::array<int, 2> ends{};
    REQUIRE(::pipe2(ends.data(), O_CLOEXEC) == 0);
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        ::close(ends[0]);
        listen(morning, ends[1]);
    }
    ::close(ends[1]);
    return {child, ends[0], morning};
}

std::set<std::int64_t> shown_as_kept(const Running& running) {
    std::set<std::int64_t> kept;
    std::int64_t onset = 0;
    while (::read(running.pipe, &onset, sizeof onset) == sizeof onset)
        kept.insert(onset);
    ::close(running.pipe);
    return kept;
}

/// Onsets of today's taps: of the sessions after the first.
std::set<std::int64_t> in_the_ledger(fs::path folder) {
    if (!fs::exists(folder))
        folder += "-elsewhere";
    const ledger::Store store(folder);
    std::set<std::int64_t> onsets;
    const ledger::PlateHistory history = store.history(1).value();
    const auto& sessions = history.sessions;
    for (std::size_t i = 1; i < sessions.size(); ++i)
        for (const ledger::TapRecord& tap : sessions[i].taps)
            onsets.insert(tap.onset_frame);
    return onsets;
}

} // namespace

// The old session open in each. Six strikes 1.3 s apart come in real time, in all children at once.
TEST_CASE(
    "stopped at any instant of a busy morning, the bench leaves every tap it showed as kept") {
    const TemporaryFolder folder;
    const std::vector<std::vector<synth::Ring>> plates(6, test::k_back);
    // Of 16 bits: some versions of paplay garble 24.
    const fs::path sound = test::strikes(folder.path(), plates, SF_FORMAT_PCM_16);
    fs::create_directory(folder.path() / "earlier");
    const fs::path earlier = test::two_taps(folder.path() / "earlier");
    const test::SoundServer input(folder.path() / "input");
    std::mt19937 random{20261130};
    std::uniform_int_distribution<unsigned> moment_ms{1500, 9000};
    std::vector<Running> all;
    for (const Trouble trouble :
         {Trouble::none, Trouble::none, Trouble::disk_full, Trouble::older_database,
          Trouble::folder_gone, Trouble::input_gone}) {
        const bool is_heard = trouble == Trouble::input_gone;
        const Morning morning{.folder = folder.path() / std::to_string(all.size()),
                              .sound = sound,
                              .trouble = trouble,
                              .dies_after_ms = moment_ms(random) / (is_heard ? 3 : 1),
                              .input = is_heard ? &input : nullptr};
        test::plate_of_days_ago(morning.folder, 3, earlier);
        fs::copy_file(morning.folder / "ledger.sqlite", morning.folder / "older.sqlite");
        all.push_back(begin(morning));
    }
    std::size_t shown = 0;
    for (const Running& one : all) {
        INFO("trouble " << static_cast<int>(one.morning.trouble) << ", after "
                        << one.morning.dies_after_ms << " ms");
        const auto kept = shown_as_kept(one);
        ::waitpid(one.child, nullptr, 0);
        shown += kept.size();
        if (one.morning.trouble == Trouble::input_gone)
            CHECK(kept.size() >= 2); // so that there was an input to lose
        const auto there = in_the_ledger(one.morning.folder);
        CHECK(std::ranges::includes(there, kept));
    }
    CHECK(shown >= 10);
}
