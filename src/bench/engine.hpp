#pragma once
#include "bench/command.hpp"
#include "bench/snapshot.hpp"
#include "bench/sound/recorded_strikes.hpp"

#include <filesystem>
#include <functional>
#include <memory>

namespace platewright::bench {

struct EngineParams {
    std::filesystem::path ledger_folder;
    std::filesystem::path replay; ///< a recording to play in as if live, in place of a microphone
    RecordedStrikes recorded;     ///< to be given on call; empty: none
    bool listen_at_once = true;
    modes::BandChoice band = {}; ///< said for this run: goes before what is remembered
    std::function<void()> woken; ///< called from the engine's thread after each publication
};

/// The maker's bench: listens, keeps, computes and publishes. Owns every thread but the screen's.
/// Throws base::Failure when the ledger can't be opened.
/// Threads: send and snapshot from any thread; neither waits for the engine.
class Engine {
public:
    explicit Engine(EngineParams params);
    ~Engine();
    Engine(const Engine&) = delete;
    Engine& operator=(const Engine&) = delete;

    void send(Command command);
    /// The newest; never null.
    std::shared_ptr<const Snapshot> snapshot() const;

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace platewright::bench
