#include "bench/ear.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "audio/paced.hpp"
#include "audio/recording.hpp"
#include "base/failure.hpp"
#include "base/level.hpp"

namespace platewright::bench {
namespace {

using namespace std::chrono_literals;

constexpr auto k_try_again = 2s;      // between attempts to open an input that is not there
constexpr auto k_level_every = 100ms; // how often the level alone is worth a redraw

} // namespace

Ear::Ear(std::filesystem::path replay, const modes::FitParams& fit) : replay_(std::move(replay)), fit_(fit) {}

void Ear::want(bool on) {
    wanted_ = on;
    try_at_ = {};
}

bool Ear::try_open(const audio::InputChoice& choice) {
    if (!wanted_ || hears() || Clock::now() < try_at_)
        return false;
    const bool had = status_.state == InputState::lost;
    try {
        open(choice);
        status_.state = InputState::running;
        status_.sample_rate_hz = listening_->sample_rate_hz();
        status_.channel = choice.channel;
        status_.trouble.clear();
    } catch (const base::Failure& failure) {
        capture_ = nullptr;
        status_.state = had ? InputState::lost : InputState::missing;
        status_.trouble = failure.what();
        try_at_ = Clock::now() + k_try_again;
        wanted_ = replay_.empty(); // a recording that can't be read will not get better
    }
    return true;
}

void Ear::open(const audio::InputChoice& choice) {
    std::unique_ptr<audio::Source> source;
    if (!replay_.empty()) {
        auto recording = audio::Recording::open(replay_);
        if (!recording)
            throw base::Failure(recording.fault().what);
        status_.name = replay_.filename().string();
        source = std::make_unique<audio::Paced>(std::move(*recording));
    } else {
        auto device = std::make_unique<audio::Capture>(choice);
        capture_ = device.get();
        status_.name = device->device_name();
        source = std::move(device);
    }
    listening_ = std::make_unique<Listening>(std::move(source), fit_, Listening::FirstReadings::yes);
}

void Ear::shut(InputState state) {
    listening_.reset();
    capture_ = nullptr;
    status_.state = state;
    status_.level_dbfs = base::k_silence_db;
}

Ear::Heard Ear::listen() {
    Listening::Step step;
    try {
        step = listening_->step();
    } catch (const base::Failure& failure) {
        Heard heard{.taps = listening_->finish(), .status_changed = true};
        shut(InputState::lost);
        status_.trouble = failure.what();
        try_at_ = Clock::now() + k_try_again;
        wanted_ = replay_.empty();
        return heard;
    }
    Heard heard{.taps = std::move(step.taps), .first_reading = std::move(step.first_reading)};
    heard.status_changed = meter(step);
    if (step.ended) {
        wanted_ = false;
        shut(InputState::off);
        heard.status_changed = true;
    }
    return heard;
}

bool Ear::meter(const Listening::Step& step) {
    const auto time = Clock::now();
    peak_ = std::max(peak_, step.peak);
    if (step.peak >= 0.999)
        clipped_at_ = time;
    if (time < level_at_)
        return false;
    level_at_ = time + k_level_every;
    InputStatus next = status_;
    next.level_dbfs = base::amplitude_to_db(std::exchange(peak_, 0.0));
    next.noise_dbfs = listening_->noise_dbfs();
    next.clipped = clipped_at_ && time - *clipped_at_ < 1s;
    next.overruns = capture_ != nullptr ? capture_->overruns() : 0;
    // A redraw needs a cause: a level that moved by less than half a decibel is none.
    if (std::abs(next.level_dbfs - status_.level_dbfs) < 0.5 && std::abs(next.noise_dbfs - status_.noise_dbfs) < 0.5 &&
        next.clipped == status_.clipped && next.overruns == status_.overruns)
        return false;
    status_ = std::move(next);
    return true;
}

std::vector<HeardTap> Ear::close() {
    std::vector<HeardTap> taps;
    if (hears())
        taps = listening_->finish();
    shut(InputState::off);
    return taps;
}

std::vector<audio::Device> Ear::inputs() {
    if (!replay_.empty())
        return {};
    if (hears())
        shut(InputState::off);
    try_at_ = {};
    return audio::list_inputs();
}

} // namespace platewright::bench
