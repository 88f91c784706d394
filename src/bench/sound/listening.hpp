#pragma once
#include "audio/source.hpp"
#include "ledger/record.hpp"
#include "modes/estimate/fit.hpp"
#include "modes/pool/pool.hpp"
#include "modes/ring/input_faults.hpp"
#include "modes/signal/spectrum.hpp"
#include "taps/onset/detector.hpp"

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace platewright::bench {

struct HeardTap {
    taps::Tap tap;
    std::vector<modes::Partial> partials;   ///< of an accepted or a doubtful tap
    modes::InputEvidence input;             ///< of the same
    modes::RingEvidence evidence = {};      ///< of the same; of a tap from the ledger none
    std::optional<modes::Spectrum> picture; ///< of its ring, for the screen; where it was made
    ledger::HammerForce force = {};         ///< that a hammer told of it
};

/// The way from samples to taps and their partials; the same for a microphone and a recording, for
/// the window and the command line. Memory does not grow with the sound. Threads: one owner; not
/// RT.
class Listening {
public:
    /// The band is narrowed to what the source's rate can carry. Throws base::Failure where all of
    /// it lies above that.
    enum class FirstReadings { no, yes };
    Listening(std::unique_ptr<audio::Source> source, const modes::FitParams& fit,
              FirstReadings first_readings = FirstReadings::no);

    struct Step {
        std::vector<HeardTap> taps; ///< that ended within this block
        std::optional<HeardTap>
            first_reading; ///< of the tap now ringing, once, when it can be read
        bool reading_ended =
            false;       ///< what a first reading was given of has ended, in a tap or in nothing
        double peak = 0; ///< of the block, full scale 1
        std::span<const float> samples; ///< of the block; valid until the next step
        std::size_t frames = 0;
        std::int64_t lost_frames = 0;
        bool ended = false;
    };
    /// Takes the source's next block. Throws what the source throws; nothing is lost by that:
    /// finish().
    Step step();
    /// The tap that was ringing when the source ended or broke.
    std::vector<HeardTap> finish();

    double sample_rate_hz() const { return source_->sample_rate_hz(); }
    double noise_dbfs() const { return detector_.noise_dbfs(); }
    const modes::FitParams& fit() const { return fit_; }
    const audio::Source& source() const { return *source_; }

private:
    HeardTap read_tap(taps::Tap tap) const;
    std::vector<HeardTap> read_taps(std::vector<taps::Tap> taps) const;

    std::unique_ptr<audio::Source> source_;
    modes::FitParams fit_;
    taps::Detector detector_;
    bool first_readings_;
    bool had_reading_ = false; ///< the tap now ringing has
};

/// Modes over accepted taps; refused ones are passed over. A tap whose samples were dropped to save
/// memory counts with its partials.
modes::Pooled pool(std::span<const HeardTap> taps, const modes::FitParams& params);

/// An accepted tap that holds a second contact, as the accepted ones of the session's others tell
/// (modes/ring/second_contact.hpp), becomes one struck twice, without partials.
void refuse_if_struck_again(HeardTap& heard, std::span<const HeardTap> others,
                            const modes::FitParams& params);

/// The partials of each tap that counts.
std::vector<std::span<const modes::Partial>> partials_that_count(std::span<const HeardTap> taps);

/// Accepts a doubtful tap that rings so much like the ones that count that it is one of them
/// (modes/ring/recognised.hpp), and gives whether it did.
bool accept_if_recognised(HeardTap& heard, std::span<const HeardTap> others);

/// Both: what a session's others say of a tap that was heard alone.
void judge_by(std::span<const HeardTap> others, HeardTap& heard, const modes::FitParams& params);

/// Counts a doubtful tap by the maker's word, where he gave it.
void vouch_if(bool takes_doubtful, HeardTap& heard);

/// Accepts the doubtful ones that the session's taps together tell (modes/ring/recognised.hpp);
/// gives which.
std::vector<std::size_t> recognise(std::span<HeardTap> taps);

/// What a tap that counts says about its input; a doubtful one says how the room answers, which may
/// be all that is wrong with it.
std::optional<modes::InputEvidence> evidence_of(const HeardTap& heard);

/// What these taps say together about their input.
modes::InputFaults input_faults(std::span<const HeardTap> taps);

/// What to do about an input that changes what it passes on, a sentence each, in the language of
/// now.
std::vector<std::string> words_of(const modes::InputFaults& faults);

} // namespace platewright::bench
