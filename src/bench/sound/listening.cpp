#include "bench/sound/listening.hpp"

#include "base/failure.hpp"
#include "base/loudest.hpp"
#include "modes/ring/recognised.hpp"
#include "modes/ring/second_contact.hpp"
#include "taps/onset/digital_silence.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::bench {
namespace {

using wording::figure;
using wording::say;

constexpr double k_first_reading_s = 0.15; // of ring, enough for a first reading

modes::FitParams within_rate(modes::FitParams fit, double rate_hz) {
    const double highest_hz = 0.45 * rate_hz;
    if (fit.low_hz >= highest_hz)
        throw base::Failure(say("With {} samples a second nothing above {} Hz can be heard, and "
                                "the band looked at begins at "
                                "{} Hz: choose a lower band, or record at a higher rate.",
                                figure(rate_hz, 0), figure(highest_hz, 0), figure(fit.low_hz, 0)));
    fit.high_hz = std::min(fit.high_hz, highest_hz);
    return fit;
}

taps::Verdict verdict_of(modes::FitStatus status) {
    switch (status) {
    case modes::FitStatus::ok:
        return taps::Verdict::accepted;
    case modes::FitStatus::too_short:
        return taps::Verdict::too_short;
    case modes::FitStatus::no_ring:
        return taps::Verdict::no_ring;
    case modes::FitStatus::doubtful:
        break;
    }
    return taps::Verdict::doubtful;
}

/// What went on when the source began, and rings like no strike: nobody asked about it.
bool sounded_already(const HeardTap& heard) {
    return taps::begins_with_stream(heard.tap) && heard.tap.verdict != taps::Verdict::clipped &&
           heard.tap.verdict != taps::Verdict::doubtful && !taps::counts(heard.tap.verdict);
}

std::vector<modes::FittedTap> accepted_of(std::span<const HeardTap> taps) {
    std::vector<modes::FittedTap> fitted;
    for (const HeardTap& heard : taps)
        if (taps::counts(heard.tap.verdict))
            fitted.push_back(
                {heard.tap.samples.empty() ? nullptr : &heard.tap, heard.tap.spot, heard.partials});
    return fitted;
}

} // namespace

Listening::Listening(std::unique_ptr<audio::Source> source, const modes::FitParams& fit,
                     FirstReadings first_readings)
    : source_(std::move(source)), fit_(within_rate(fit, source_->sample_rate_hz())),
      detector_(source_->sample_rate_hz(), {.low_hz = fit_.low_hz, .high_hz = fit_.high_hz}),
      first_readings_(first_readings == FirstReadings::yes) {}

HeardTap Listening::read_tap(taps::Tap tap) const {
    HeardTap heard{.tap = std::move(tap), .partials = {}};
    if (heard.tap.verdict != taps::Verdict::accepted)
        return heard;
    modes::Fit fit = modes::fit_tap(heard.tap, fit_);
    if (taps::begins_with_stream(heard.tap)) {
        // No quiet tells of the noise: it is learnt from the ring's end, or there is none.
        taps::Tap led = taps::led_by_silence(heard.tap);
        modes::Fit other = modes::fit_tap(led, fit_);
        if (modes::ring_log_odds(other.evidence) > modes::ring_log_odds(fit.evidence)) {
            fit = std::move(other);
            heard.tap = std::move(led);
        }
    }
    heard.input = fit.input;
    heard.evidence = fit.evidence;
    heard.partials = std::move(fit.partials);
    heard.tap.verdict = verdict_of(fit.status);
    return heard;
}

std::vector<HeardTap> Listening::read_taps(std::vector<taps::Tap> taps) const {
    std::vector<HeardTap> heard;
    heard.reserve(taps.size());
    for (taps::Tap& tap : taps)
        heard.push_back(read_tap(std::move(tap)));
    std::erase_if(heard, sounded_already);
    return heard;
}

Listening::Step Listening::step() {
    const audio::Block block = source_->read();
    Step step{.samples = block.samples,
              .frames = block.samples.size(),
              .lost_frames = block.lost_frames,
              .ended = block.ended};
    step.peak = static_cast<double>(base::loudest(block.samples));
    if (block.lost_frames > 0)
        step.taps = read_taps(detector_.gap(block.lost_frames));
    for (HeardTap& tap : read_taps(detector_.push(block.samples)))
        step.taps.push_back(std::move(tap));
    if (first_readings_ && !had_reading_ && detector_.ringing_s() >= k_first_reading_s) {
        had_reading_ = true;
        step.first_reading = read_tap(*detector_.ringing());
    }
    step.reading_ended = had_reading_ && detector_.ringing_s() < k_first_reading_s;
    had_reading_ = had_reading_ && !step.reading_ended;
    if (block.ended) {
        for (HeardTap& tap : finish())
            step.taps.push_back(std::move(tap));
        step.reading_ended = step.reading_ended || had_reading_;
    }
    return step;
}

std::vector<HeardTap> Listening::finish() { return read_taps(detector_.finish()); }

modes::Pooled pool(std::span<const HeardTap> taps, const modes::FitParams& params) {
    return modes::pool(accepted_of(taps), params);
}

void refuse_if_struck_again(HeardTap& heard, std::span<const HeardTap> others,
                            const modes::FitParams& params) {
    if (heard.tap.verdict != taps::Verdict::accepted || modes::shows_fault(heard.input) ||
        !modes::leaves_much_untold(heard.input) ||
        !modes::was_struck_again({&heard.tap, heard.tap.spot, heard.partials}, heard.input,
                                 accepted_of(others), params))
        return;
    heard.tap.verdict = taps::Verdict::struck_twice;
    heard.partials.clear();
}

std::vector<std::span<const modes::Partial>> partials_that_count(std::span<const HeardTap> taps) {
    std::vector<std::span<const modes::Partial>> partials;
    for (const HeardTap& heard : taps)
        if (taps::counts(heard.tap.verdict))
            partials.emplace_back(heard.partials);
    return partials;
}

bool accept_if_recognised(HeardTap& heard, std::span<const HeardTap> others) {
    const auto in_question = std::ranges::count_if(others, [](const HeardTap& other) {
        return taps::counts(other.tap.verdict) || other.tap.verdict == taps::Verdict::doubtful;
    });
    if (heard.tap.verdict != taps::Verdict::doubtful ||
        !modes::is_recognised(heard.evidence, heard.partials, partials_that_count(others),
                              static_cast<std::size_t>(in_question)))
        return false;
    heard.tap.verdict = taps::Verdict::accepted;
    return true;
}

void judge_by(std::span<const HeardTap> others, HeardTap& heard, const modes::FitParams& params) {
    accept_if_recognised(heard, others);
    refuse_if_struck_again(heard, others, params);
}

void vouch_if(bool takes_doubtful, HeardTap& heard) {
    if (takes_doubtful && heard.tap.verdict == taps::Verdict::doubtful)
        heard.tap.verdict = taps::Verdict::vouched;
}

std::vector<std::size_t> recognise(std::span<HeardTap> taps) {
    std::vector<modes::JudgedRing> rings;
    std::vector<std::size_t> at, recognised;
    for (std::size_t i = 0; i < taps.size(); ++i) {
        const bool counts = taps::counts(taps[i].tap.verdict);
        if (!counts && taps[i].tap.verdict != taps::Verdict::doubtful)
            continue;
        rings.push_back({taps[i].evidence, taps[i].partials, counts});
        at.push_back(i);
    }
    for (const std::size_t k : modes::recognise(rings)) {
        taps[at[k]].tap.verdict = taps::Verdict::accepted;
        recognised.push_back(at[k]);
    }
    return recognised;
}

std::optional<modes::InputEvidence> evidence_of(const HeardTap& heard) {
    if (taps::counts(heard.tap.verdict))
        return heard.input;
    if (heard.tap.verdict == taps::Verdict::doubtful)
        return modes::InputEvidence{.room = heard.input.room};
    return std::nullopt;
}

modes::InputFaults input_faults(std::span<const HeardTap> taps) {
    std::vector<modes::InputEvidence> evidence;
    for (const HeardTap& heard : taps)
        if (const auto tells = evidence_of(heard))
            evidence.push_back(*tells);
    return modes::input_faults(evidence);
}

std::vector<std::string> words_of(const modes::InputFaults& faults) {
    using wording::say;
    std::vector<std::string> words;
    if (faults.moves_gain)
        words.emplace_back(say("The input turns itself down after a strike: switch automatic gain, "
                               "noise gate and noise suppression off. Its figures are less "
                               "sure, Q above all."));
    if (faults.bends)
        words.emplace_back(say("The input presses loud strikes flat before they are full scale: "
                               "turn the preamplifier down or move away. Only strong partials of "
                               "these taps are taken, and their figures are less sure."));
    if (faults.room.share > 0)
        words.emplace_back(say("The room answers: {} s to -60 dB, {} dB below the direct sound. A "
                               "frequency is good to {} cents here (350 Hz, Q 60); with the "
                               "microphone at half the distance, to half of that.",
                               wording::figure(std::log(1000.0) / faults.room.decay_per_s, 1),
                               wording::figure(-10 * std::log10(faults.room.share), 0),
                               wording::figure(modes::cost_cents(faults.room), 0)));
    return words;
}

} // namespace platewright::bench
