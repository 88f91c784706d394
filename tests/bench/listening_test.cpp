// The way from samples to taps, without a window or a ledger.
#include "audio/recording.hpp"
#include "bench/sound/listening.hpp"
#include "morning.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"
#include "support/temporary_folder.hpp"

using namespace platewright;
using test::TemporaryFolder;
using test::write_wav;

TEST_CASE("silence that begins to breathe is no strike: nothing stays ringing") {
    TemporaryFolder folder;
    for (const double noise : {2.5e-4, 5e-4, 1e-3}) { // about -72 to -60 dBFS
        std::vector<double> sound(static_cast<std::size_t>(12 * 48000));
        synth::Normal normal(11);
        std::vector<double> breath(sound.size() - 2 * 48000);
        synth::add_noise(breath, noise, normal, 0.9);
        std::copy(breath.begin(), breath.end(), sound.begin() + 2 * 48000);
        const auto path = folder.path() / "breath.wav";
        write_wav(path, sound);
        auto recording = audio::Recording::open(path);
        REQUIRE(recording);
        bench::Listening listening(std::move(*recording), {}, bench::Listening::FirstReadings::yes);
        std::size_t frames = 0, reading_at = 0, longest = 0;
        for (bool ended = false; !ended;) {
            auto step = listening.step();
            ended = step.ended;
            frames += step.frames;
            if (step.first_reading) {
                CHECK(step.first_reading->tap.verdict != taps::Verdict::accepted);
                reading_at = frames;
            }
            for (const auto& tap : step.taps)
                CHECK(tap.tap.verdict != taps::Verdict::accepted);
            if (!step.taps.empty() || step.reading_ended)
                reading_at = 0;
            if (reading_at != 0)
                longest = std::max(longest, frames - reading_at);
        }
        CHECK(longest < 3 * 48000); // as long as a tap is listened to at the most
    }
}
