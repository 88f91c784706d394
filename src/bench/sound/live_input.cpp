#include "bench/sound/live_input.hpp"

#include "audio/paced.hpp"
#include "audio/recording.hpp"
#include "base/failure.hpp"
#include "base/level.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace platewright::bench {
namespace {

using namespace std::chrono_literals;

constexpr auto k_try_again = 2s;         // between attempts to open an input that is not there
constexpr double k_deaf_before_s = 0.05; // a tap's first sample may lie before what made it heard
constexpr double k_deaf_after_s = 0.35;  // through the loudspeaker, the room and the input
constexpr std::size_t k_deaf_spans = 8;  // older ones can have no tap still ringing
constexpr std::ptrdiff_t k_taps_judged = 8; // of the input: it may be turned down meanwhile
// A room and a preamplifier always make some noise, at least the last of 16 bits (−90 dBFS) now and
// then: where nothing reaches this for so long, the input is muted or another one.
constexpr double k_muted_below = 1e-5; // of full scale
constexpr auto k_silent_after = 3s;
constexpr auto k_level_every = 100ms; // how often the level alone is worth a redraw

std::unique_ptr<audio::OnCall> strikes_of(const RecordedStrikes& recorded) {
    auto recording = audio::Recording::open(recorded.recording);
    if (!recording)
        throw base::Failure(recording.fault().what);
    std::vector<double> onsets_s;
    for (const RecordedStrikes::Strike& strike : recorded.strikes)
        onsets_s.push_back(strike.onset_s);
    return std::make_unique<audio::OnCall>(**recording, onsets_s);
}

} // namespace

LiveInput::LiveInput(std::filesystem::path replay, const modes::FitParams& fit)
    : replay_(std::move(replay)), fit_(fit) {}

void LiveInput::want(bool on) {
    wanted_ = on;
    try_at_ = {};
}

bool LiveInput::try_open(const audio::InputChoice& choice) {
    if (!wanted_ || hears() || Clock::now() < try_at_)
        return false;
    const bool had = status_.state == InputState::lost;
    try {
        open(choice);
        status_.state = InputState::running;
        status_.sample_rate_hz = listening_->sample_rate_hz();
        status_.channel = choice.channel;
        status_.force_channel = force_ != nullptr ? choice.force_channel : -1;
        status_.trouble.clear();
    } catch (const base::Failure& failure) {
        capture_ = nullptr;
        force_ = nullptr;
        status_.state = had ? InputState::lost : InputState::missing;
        status_.trouble = failure.what();
        try_at_ = Clock::now() + k_try_again;
        wanted_ = replay_.empty(); // a recording that can't be read will not get better
    }
    return true;
}

void LiveInput::open(const audio::InputChoice& choice) {
    std::unique_ptr<audio::Source> source;
    if (recorded_ != nullptr) {
        auto on_call = strikes_of(*recorded_);
        on_call_ = on_call.get();
        status_.name = wording::say("recorded strikes (invented)");
        source = std::make_unique<audio::Paced>(std::move(on_call));
    } else if (!replay_.empty()) {
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
        if (choice.force_channel >= 0) {
            auto memory = std::make_unique<audio::ForceMemory>(std::move(source));
            force_ = memory.get();
            newton_ = choice.force_newton;
            source = std::move(memory);
        }
    }
    frames_ = 0;
    sound_at_ = Clock::now();
    deaf_.clear();
    evidence_.clear();
    status_.faults = {};
    listening_ =
        std::make_unique<Listening>(std::move(source), fit_, Listening::FirstReadings::yes);
}

void LiveInput::shut(InputState state) {
    listening_.reset();
    capture_ = nullptr;
    force_ = nullptr;
    on_call_ = nullptr;
    status_.state = state;
    status_.level_dbfs = base::k_silence_db;
    status_.silent = false;
}

LiveInput::Heard LiveInput::listen() {
    Listening::Step step;
    try {
        step = listening_->step();
    } catch (const base::Failure& failure) {
        Heard heard{.taps = listening_->finish(), .reading_ended = true, .status_changed = true};
        add_force(heard.taps);
        shut(InputState::lost);
        status_.trouble = failure.what();
        try_at_ = Clock::now() + k_try_again;
        wanted_ = replay_.empty();
        return heard;
    }
    Heard heard{.taps = std::move(step.taps),
                .first_reading = std::move(step.first_reading),
                .reading_ended = step.reading_ended};
    add_force(heard.taps);
    follow(step, heard);
    heard.status_changed = meter(step);
    if (step.ended) {
        wanted_ = false;
        shut(InputState::ended);
        heard.status_changed = true;
    }
    return heard;
}

/// What the hammer told of taps that may count: of the same frames, where they are still known.
void LiveInput::add_force(std::vector<HeardTap>& taps) const {
    for (HeardTap& heard : taps)
        if (const taps::Tap& tap = heard.tap; force_ != nullptr && !heard.partials.empty())
            heard.force = {
                force_->force(tap.onset_frame - static_cast<std::int64_t>(tap.onset_index),
                              tap.samples.size()),
                newton_};
}

/// Counts frames, keeps the room that was asked for, leaves our own sound out.
void LiveInput::follow(const Listening::Step& step, Heard& heard) {
    frames_ += static_cast<std::int64_t>(step.frames) + step.lost_frames;
    std::erase_if(heard.taps, [this](const HeardTap& tap) { return is_own_sound(tap); });
    if (heard.first_reading && is_own_sound(*heard.first_reading))
        heard.first_reading.reset();
    if (!heard.taps.empty())
        judge_input(heard);
    if (room_wanted_ == 0)
        return;
    const std::size_t count = std::min(room_wanted_, step.samples.size());
    room_.insert(room_.end(), step.samples.begin(),
                 step.samples.begin() + static_cast<std::ptrdiff_t>(count));
    room_wanted_ -= count;
    if (room_wanted_ == 0)
        heard.room = std::exchange(room_, {});
}

/// A fault is told when it appears, not with each tap.
void LiveInput::judge_input(Heard& heard) {
    for (const HeardTap& tap : heard.taps)
        if (const auto tells = evidence_of(tap))
            evidence_.push_back(*tells);
    if (std::ssize(evidence_) > k_taps_judged)
        evidence_.erase(evidence_.begin(), evidence_.end() - k_taps_judged);
    const modes::InputFaults before = status_.faults;
    status_.faults = modes::input_faults(evidence_);
    heard.new_faults = {.moves_gain = status_.faults.moves_gain && !before.moves_gain,
                        .bends = status_.faults.bends && !before.bends,
                        .room =
                            before.room.share > 0 ? modes::Reverberation{} : status_.faults.room};
}

bool LiveInput::is_own_sound(const HeardTap& tap) const {
    return std::any_of(deaf_.begin(), deaf_.end(), [&](const DeafSpan& span) {
        return tap.tap.onset_frame >= span.from && tap.tap.onset_frame < span.end &&
               (span.to == Muted::all || !taps::counts(tap.tap.verdict));
    });
}

void LiveInput::mute(Muted to) {
    if (!hears())
        return;
    if (deaf_.size() >= k_deaf_spans)
        deaf_.erase(deaf_.begin());
    deaf_.push_back({to,
                     frames_ - static_cast<std::int64_t>(k_deaf_before_s * status_.sample_rate_hz),
                     std::numeric_limits<std::int64_t>::max()});
}

void LiveInput::unmute() {
    // Of several at once (a voice, a tap played meanwhile) each end ends one; till the last the
    // input is deaf.
    const auto open =
        std::ranges::find(deaf_, std::numeric_limits<std::int64_t>::max(), &DeafSpan::end);
    if (open != deaf_.end())
        open->end = frames_ + static_cast<std::int64_t>(k_deaf_after_s * status_.sample_rate_hz);
}

void LiveInput::collect_room(double seconds) {
    room_.clear();
    room_wanted_ = hears() ? static_cast<std::size_t>(seconds * status_.sample_rate_hz) : 0;
}

bool LiveInput::meter(const Listening::Step& step) {
    const auto time = Clock::now();
    peak_ = std::max(peak_, step.peak);
    if (step.peak >= 0.999)
        clipped_at_ = time;
    if (step.peak > k_muted_below)
        sound_at_ = time;
    if (time < level_at_)
        return false;
    level_at_ = time + k_level_every;
    InputStatus next = status_;
    next.level_dbfs = base::amplitude_to_db(std::exchange(peak_, 0.0));
    next.noise_dbfs = listening_->noise_dbfs();
    next.clipped = clipped_at_ && time - *clipped_at_ < 1s;
    next.silent = time - sound_at_ > k_silent_after;
    next.overruns = capture_ != nullptr ? capture_->overruns() : 0;
    // A redraw needs a cause: a level that moved by less than half a decibel is none.
    if (std::abs(next.level_dbfs - status_.level_dbfs) < 0.5 &&
        std::abs(next.noise_dbfs - status_.noise_dbfs) < 0.5 && next.clipped == status_.clipped &&
        next.silent == status_.silent && next.overruns == status_.overruns)
        return false;
    status_ = std::move(next);
    return true;
}

std::vector<HeardTap> LiveInput::look_in(const modes::FitParams& fit) {
    fit_ = fit;
    if (!hears() || !replay_.empty())
        return {};
    std::vector<HeardTap> taps = close();
    try_at_ = {};
    return taps;
}

std::vector<HeardTap> LiveInput::close() {
    std::vector<HeardTap> taps;
    if (hears())
        taps = listening_->finish(), add_force(taps);
    shut(InputState::off);
    return taps;
}

void LiveInput::hear_recorded(const RecordedStrikes* strikes) {
    recorded_ = strikes;
    replay_.clear();
}

bool LiveInput::strike(std::size_t index) { return on_call_ != nullptr && on_call_->call(index); }

std::vector<audio::Device> LiveInput::inputs() {
    if (!replay_.empty() || recorded_ != nullptr)
        return {};
    if (hears())
        shut(InputState::off);
    try_at_ = {};
    return audio::list_inputs();
}

} // namespace platewright::bench
