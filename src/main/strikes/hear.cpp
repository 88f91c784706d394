#include "main/strikes/hear.hpp"

#include "audio/recording.hpp"
#include "base/failure.hpp"
#include "bench/sound/listening.hpp"
#include "taps/onset/digital_silence.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace platewright::cli {

namespace {

constexpr std::size_t k_taps_with_sound =
    40; // enough to share poles; later ones count with their partials

void put_away(std::vector<bench::HeardTap> from, Heard& into, const modes::FitParams& fit,
              const std::function<void(bench::HeardTap&)>& on_tap, std::size_t& with_sound) {
    for (bench::HeardTap& tap : from) {
        bench::judge_by(into.taps, tap, fit);
        if (on_tap)
            on_tap(tap);
        const bool accepted = taps::counts(tap.tap.verdict);
        into.gated +=
            accepted && !taps::begins_with_stream(tap.tap) && taps::follows_digital_silence(tap.tap)
                ? 1
                : 0;
        const bool keep = !tap.partials.empty() && with_sound < k_taps_with_sound;
        with_sound += keep ? 1 : 0;
        if (!keep)
            std::vector<float>{}.swap(tap.tap.samples);
        into.taps.push_back(std::move(tap));
    }
}

} // namespace

std::vector<std::string> input_remarks(const std::filesystem::path& path, const Heard& heard) {
    const auto accepted = std::ranges::count_if(
        heard.taps, taps::counts, [](const bench::HeardTap& tap) { return tap.tap.verdict; });
    const bool gated = heard.gated > 0 && 2 * heard.gated > accepted;
    std::vector<std::string> remarks;
    if (gated)
        remarks.emplace_back("The taps come out of digital silence, so a noise gate or noise "
                             "suppression was on: switch it off, for it bends frequencies and Q.");
    for (std::string& words : bench::words_of(bench::input_faults(heard.taps)))
        remarks.push_back(std::move(words));
    for (std::string& remark : remarks)
        remark = fmt::format("“{}”: {}", path.string(), remark);
    return remarks;
}

namespace {

/// With a force the recording stands behind a memory of it.
base::Result<std::unique_ptr<bench::Listening>> open_with(const std::filesystem::path& path,
                                                          int channel, int force_channel,
                                                          const modes::FitParams& fit) {
    auto recording = audio::Recording::open(path, channel, force_channel);
    if (!recording)
        return recording.fault();
    std::unique_ptr<audio::Source> source = std::move(*recording);
    if (force_channel >= 0)
        source = std::make_unique<audio::ForceMemory>(std::move(source));
    try {
        return std::make_unique<bench::Listening>(std::move(source), fit);
    } catch (const base::Failure& failure) {
        return base::Fault{fmt::format("“{}”: {}", path.string(), failure.what())};
    }
}

Heard heard_from(bench::Listening& listening, const audio::Recording& file,
                 const std::function<void(bench::HeardTap&)>& on_tap) {
    Heard heard;
    heard.sample_rate_hz = file.sample_rate_hz();
    std::size_t with_sound = 0;
    for (bool ended = false; !ended;) {
        bench::Listening::Step step;
        try {
            step = listening.step();
        } catch (const base::Failure& failure) { // of the file; what on_tap throws is the ledger's
            heard.trouble = failure.what();
            step.taps = listening.finish();
            step.ended = true;
        }
        put_away(std::move(step.taps), heard, listening.fit(), on_tap, with_sound);
        ended = step.ended;
    }
    heard.duration_s = static_cast<double>(file.frames_read()) / heard.sample_rate_hz;
    heard.silent = file.loudest() == 0.0F;
    bench::recognise(heard.taps);
    heard.pooled = bench::pool(heard.taps, listening.fit());
    return heard;
}

} // namespace

base::Result<std::unique_ptr<bench::Listening>>
open_to_hear(const std::filesystem::path& path, int channel, const modes::FitParams& fit) {
    return open_with(path, channel, -1, fit);
}

Heard hear(const std::filesystem::path& path, int channel, const modes::FitParams& fit,
           const std::function<void(bench::HeardTap&)>& on_tap) {
    const auto opened = open_with(path, channel, -1, fit);
    if (!opened)
        return {.trouble = opened.fault().what};
    return heard_from(**opened, dynamic_cast<const audio::Recording&>((*opened)->source()), on_tap);
}

Heard hear(const std::filesystem::path& path, int channel, const modes::FitParams& fit,
           int force_channel, const ForceSeen& seen) {
    const auto opened = open_with(path, channel, force_channel, fit);
    if (!opened)
        return {.trouble = opened.fault().what};
    const auto& memory = dynamic_cast<const audio::ForceMemory&>((*opened)->source());
    return heard_from(**opened, dynamic_cast<const audio::Recording&>(memory.inner()),
                      [&](bench::HeardTap& tap) { seen(tap, memory); });
}

namespace {

/// Of a kept tap or one just heard.
template <class AnyTap>
KnownStrikes::Mark mark_of(const AnyTap& tap) {
    return {tap.sample_rate_hz, tap.onset_frame, tap.peak_dbfs, tap.noise_dbfs};
}

} // namespace

void KnownStrikes::add(const std::vector<ledger::TapRecord>& taps, base::Timestamp begun) {
    for (const ledger::TapRecord& tap : taps)
        known_.emplace(mark_of(tap), begun);
}

bool KnownStrikes::has(const taps::Tap& tap, base::Timestamp begun) {
    const auto [known, is_new] = known_.emplace(mark_of(tap), begun);
    if (is_new)
        return false;
    ++met_;
    day_ = base::local_date(known->second);
    return true;
}

} // namespace platewright::cli
