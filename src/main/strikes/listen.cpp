#include "audio/capture.hpp"
#include "audio/paced.hpp"
#include "audio/recording.hpp"
#include "base/failure.hpp"
#include "base/text.hpp"
#include "bench/sound/listening.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/json.hpp"
#include "main/strikes/force.hpp"
#include "main/tables.hpp"

#include <atomic>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <fmt/format.h>
#include <memory>
#include <thread>

namespace platewright::cli {
namespace {

constexpr const char* k_listen_schema = "platewright.listen/1";
constexpr std::size_t k_taps_pooled =
    40; // the newest ones, so that a day's listening needs no more memory

std::atomic<bool> interrupted{false};
void on_interrupt(int) { interrupted = true; }

struct ListenOptions {
    audio::InputChoice input{.channel = 1}; // counted from 1 on the command line
    modes::FitParams fit;
    std::filesystem::path replay;
    ForceOptions force;
    std::string server_source;
    double seconds = 0;
    int taps = 0;
    bool list = false;
};

ExitCode list_inputs(bool json) {
    const auto devices = audio::list_inputs();
    if (json) {
        Json list = Json::array();
        for (const audio::Device& d : devices)
            list.push_back({{"name", d.name},
                            {"channels", d.channels},
                            {"default_rate_hz", d.default_rate_hz},
                            {"default", d.is_default}});
        print({{"schema", k_listen_schema}, {"inputs", list}});
    } else {
        Table table({"input", "channels", "rate Hz", ""});
        for (const audio::Device& d : devices)
            table.row({d.name, std::to_string(d.channels), base::fixed(d.default_rate_hz, 0),
                       d.is_default ? "default" : ""});
        if (!table.empty())
            say(table.text());
    }
    if (devices.empty())
        complain("There is no microphone: plug one in, or start the sound server, and try again.");
    return devices.empty() ? k_nothing_found : k_done;
}

std::unique_ptr<audio::Source> open_source(const ListenOptions& options) {
    if (options.replay.empty()) {
        audio::InputChoice choice = options.input;
        choice.channel -= 1;
        choice.force_channel = options.force.from_zero();
        return std::make_unique<audio::Capture>(choice);
    }
    auto recording = audio::Recording::open(options.replay, options.input.channel - 1,
                                            options.force.from_zero());
    if (!recording)
        throw base::Failure(recording.fault().what);
    return std::make_unique<audio::Paced>(std::move(*recording));
}

void report_tap(const bench::HeardTap& tap, bool json) {
    if (json)
        print({{"schema", k_listen_schema}, {"tap", tap}}, false);
    else
        say(tap_line(tap));
}

void report_modes(const modes::Pooled& pooled, std::int64_t overruns, bool json) {
    if (json)
        print({{"schema", k_listen_schema}, {"modes", pooled.modes}, {"lost_frames", overruns}},
              false);
    else if (!pooled.modes.empty())
        say("\n  modes over the accepted taps\n" + modes_table(unnamed(pooled.modes), false));
}

/// Listens until it is enough: to one source after another where a microphone is lost and comes
/// back.
class Hearing {
public:
    Hearing(const ListenOptions& options, bool json) : options_(options), json_(json) {}

    ExitCode run() {
        open();
        while (!enough()) {
            if (listening_)
                hear();
            else
                wait_for_input();
        }
        close();
        const modes::Pooled pooled = bench::pool(accepted_, fit_);
        report_modes(pooled, lost_, json_);
        if (force_)
            report_force(pooled);
        for (const std::string& words : bench::words_of(bench::input_faults(accepted_)))
            complain(words);
        if (lost_ > 0)
            complain(fmt::format(
                "{} frames of sound were lost: close other programs, or choose a lower rate.",
                lost_));
        return is_lost_ ? k_failed : count_ > 0 ? k_done : k_nothing_found;
    }

private:
    void report_force(const modes::Pooled& pooled) const {
        if (json_)
            print({{"schema", k_listen_schema}, {"response", force_->json(pooled.modes)}}, false);
        else if (const std::string table = force_->table(pooled.modes); !table.empty())
            say(table);
        if (const std::string remark = force_->remark(); !remark.empty())
            complain(remark);
        force_->write("Live");
    }

    void open() {
        std::unique_ptr<audio::Source> source = open_source(options_);
        memory_ = nullptr;
        if (options_.force.channel > 0) {
            auto memory = std::make_unique<audio::ForceMemory>(std::move(source));
            memory_ = memory.get();
            source = std::move(memory);
        }
        listening_ = std::make_unique<bench::Listening>(std::move(source), options_.fit);
        if (memory_ != nullptr && !force_)
            force_.emplace(options_.force, listening_->sample_rate_hz());
        fit_ = listening_->fit();
        if (!json_)
            say(fmt::format("Listening at {} Hz; Ctrl-C ends.",
                            base::fixed(listening_->sample_rate_hz(), 0)));
    }

    void close() {
        if (listening_)
            take(listening_->finish());
        listening_.reset();
    }

    void hear() {
        try {
            bench::Listening::Step step = listening_->step();
            heard_s_ +=
                static_cast<double>(static_cast<std::int64_t>(step.frames) + step.lost_frames) /
                listening_->sample_rate_hz();
            lost_ += step.lost_frames;
            take(std::move(step.taps));
            has_ended_ = step.ended;
        } catch (const base::Failure& failure) {
            complain(failure.what());
            is_lost_ = true;
            has_ended_ = !options_.replay.empty(); // a recording does not come back
            close();
        }
    }

    /// A sound server that was started again, a microphone that was plugged in again.
    void wait_for_input() {
        using namespace std::chrono_literals;
        constexpr auto k_look = 100ms;
        std::this_thread::sleep_for(k_look);
        heard_s_ += std::chrono::duration<double>(k_look).count();
        if (++looks_ % 10 != 0)
            return;
        try {
            open();
            is_lost_ = false;
        } catch (const base::Failure&) { // what is wrong was said when it was lost
            listening_.reset();
        }
    }

    bool enough() const {
        return has_ended_ || interrupted || (options_.taps > 0 && count_ >= options_.taps) ||
               (options_.seconds > 0 && heard_s_ >= options_.seconds);
    }

    void take(std::vector<bench::HeardTap> taps) {
        for (bench::HeardTap& tap : taps) {
            bench::judge_by(accepted_, tap, fit_);
            report_tap(tap, json_);
            if (!taps::counts(tap.tap.verdict))
                continue;
            ++count_;
            if (force_ && memory_ != nullptr)
                force_->take(tap, *memory_);
            accepted_.push_back(std::move(tap));
            if (accepted_.size() > k_taps_pooled)
                accepted_.erase(accepted_.begin());
        }
    }

    const ListenOptions& options_;
    bool json_;
    std::unique_ptr<bench::Listening> listening_; ///< null while the input is lost
    const audio::ForceMemory* memory_ =
        nullptr; ///< the listening's own source, where a force is told
    std::optional<ForceReading> force_;
    modes::FitParams fit_;
    std::vector<bench::HeardTap> accepted_;
    double heard_s_ = 0; ///< waiting counts
    std::int64_t lost_ = 0;
    int count_ = 0, looks_ = 0;
    bool is_lost_ = false, has_ended_ = false;
};

ExitCode listen(const ListenOptions& options, const Common& common) {
    if (!options.server_source
             .empty()) // before the sound system starts; its ALSA door has no other way in
        setenv("PULSE_SOURCE", options.server_source.c_str(), 1);
    if (options.list)
        return list_inputs(common.json);
    std::signal(SIGINT, on_interrupt);
    std::signal(SIGTERM, on_interrupt);
    return Hearing(options, common.json).run();
}

} // namespace

void add_listen(CLI::App& app, Common& common, Chosen& chosen) {
    auto* command = app.add_subcommand(
        "listen", "Find taps and modes live, from a microphone, without a window");
    command->footer(
        "One line a tap, and the pooled modes at the end (Ctrl-C, --seconds or --taps).\n"
        "Nothing is kept: the window and `enter` do that. Where the sound server or the microphone "
        "is gone, it is\n"
        "said, and listening goes on by itself when it is there again.\n\n"
        "  platewright listen --inputs\n"
        "  platewright listen --taps 8\n"
        "  platewright listen --json --input \"ALSA: pulse\" --rate 96000");
    auto options = std::make_shared<ListenOptions>();
    command->add_flag("--inputs", options->list, "List the inputs and stop");
    option(*command, "--input", options->input.name,
           "Input by its name in --inputs [the system's default]", "NAME");
    option(*command, "--source", options->server_source,
           "Of a sound server's microphones the one of this name, as `pactl list "
           "short sources` gives it [the server's default]",
           "NAME");
    command
        ->add_option("--rate", options->input.sample_rate_hz, "Samples a second [the input's own]")
        ->check(CLI::Range(44100.0, 192000.0))
        ->type_name("HZ");
    command->add_option("--channel", options->input.channel, "Channel, counted from 1")
        ->check(CLI::Range(1, 1024))
        ->capture_default_str();
    command->add_option("--seconds", options->seconds, "Stop after this long")
        ->check(CLI::Range(0.1, 1e6));
    command->add_option("--taps", options->taps, "Stop after this many accepted taps")
        ->check(CLI::Range(1, 100000));
    option(*command, "--replay", options->replay,
           "A recording, as if live, in place of a microphone", "FILE");
    add_force(*command, options->force);
    add_band(*command, options->fit);
    finish_without_ledger(*command, common, chosen, options, listen);
}

} // namespace platewright::cli
