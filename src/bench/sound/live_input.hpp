#pragma once
#include "audio/capture.hpp"
#include "audio/force_memory.hpp"
#include "audio/on_call.hpp"
#include "bench/snapshot.hpp"
#include "bench/sound/listening.hpp"
#include "bench/sound/recorded_strikes.hpp"

#include <chrono>
#include <filesystem>
#include <memory>
#include <optional>
#include <vector>

namespace platewright::bench {

/// The bench's input: opened when wanted, taken up again by itself when it was not there or was
/// lost, with its level for the meter. A recording, as if live, may stand in for the microphone.
/// Threads: the engine's only.
class LiveInput {
public:
    LiveInput(std::filesystem::path replay, const modes::FitParams& fit);

    const InputStatus& status() const { return status_; }
    bool hears() const { return listening_ != nullptr; }
    void want(bool on);
    /// Opens the input when it is wanted and an attempt is due; whether one was made.
    bool try_open(const audio::InputChoice& choice);

    struct Heard {
        std::vector<HeardTap> taps;            ///< that ended
        std::optional<HeardTap> first_reading; ///< of the tap now ringing
        bool reading_ended = false;            ///< what had a first reading rings no more
        std::vector<float> room;               ///< once, what collect_room asked for
        bool status_changed = false;           ///< worth a redraw
        modes::InputFaults new_faults;         ///< of the input, that its taps tell since now
    };
    /// The next block. An input that breaks gives the tap that was ringing, and is tried again
    /// later.
    Heard listen();
    /// In another band from now on; gives the tap that was ringing. A recording that stands in for
    /// the microphone goes on in the old one.
    std::vector<HeardTap> look_in(const modes::FitParams& fit);
    /// Ends listening; gives the tap that was ringing.
    std::vector<HeardTap> close();
    /// From now on what the program itself plays is heard too, and is no tap: nothing that begins
    /// before unmute is given, or only what is accepted, where a refusal could be of our own
    /// sound alone.
    enum class Muted { all, refused };
    void mute(Muted to);
    /// After the last of it; echoes and the way through the sound system are allowed for.
    void unmute();
    /// The next samples, this many seconds of them, are given by listen() as they are.
    void collect_room(double seconds);

    /// From the next opening on: strikes given on call, in place of the microphone; null: the
    /// microphone, also where a recording stood in for it.
    void hear_recorded(const RecordedStrikes* strikes);
    /// One of them sounds now, unless another still does or nothing is heard. Whether it does.
    bool strike(std::size_t index);

    /// All inputs now present; a live one is closed for that and taken up again.
    std::vector<audio::Device> inputs();

private:
    using Clock = std::chrono::steady_clock;
    void shut(InputState state);
    void open(const audio::InputChoice& choice);
    bool meter(const Listening::Step& step);
    void follow(const Listening::Step& step, Heard& heard);
    void judge_input(Heard& heard);
    void add_force(std::vector<HeardTap>& taps) const;
    bool is_own_sound(const HeardTap& tap) const;

    std::filesystem::path replay_;
    modes::FitParams fit_;
    InputStatus status_;
    std::unique_ptr<Listening> listening_;
    const audio::Capture* capture_ = nullptr; ///< within listening_, where it is live
    const RecordedStrikes* recorded_ = nullptr;
    const audio::ForceMemory* force_ = nullptr; ///< within listening_, where a hammer tells its own
    double newton_ = 0;                         ///< at its full scale
    audio::OnCall* on_call_ = nullptr; ///< within listening_, where recorded strikes are given
    bool wanted_ = false;
    Clock::time_point try_at_{}, level_at_{};
    std::optional<Clock::time_point> clipped_at_;
    Clock::time_point sound_at_{}; ///< when anything at all came last
    double peak_ = 0;
    std::vector<modes::InputEvidence> evidence_; ///< of the newest accepted taps

    struct DeafSpan {
        Muted to;
        std::int64_t from, end; ///< frames of the stream
    };
    std::vector<DeafSpan> deaf_;
    std::int64_t frames_ = 0; ///< heard since it was opened
    std::vector<float> room_;
    std::size_t room_wanted_ = 0; ///< samples still to come
};

} // namespace platewright::bench
