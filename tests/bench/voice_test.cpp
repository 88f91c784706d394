#include "bench/session/guide.hpp"
#include "bench/sound/voice.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"
#include "taps/onset/detector.hpp"

using namespace platewright;

TEST_CASE("an answer's tones are never taken for a tap, however loud the room gives them back") {
    for (const bool accepted : {true, false}) {
        for (const double gain : {0.02, 0.2, 1.0}) {
            std::vector<double> sound(3 * 48000);
            synth::Normal normal(5);
            synth::add_noise(sound, 1e-4, normal);
            const auto tones = bench::answer_tones(accepted, 48000);
            for (std::size_t i = 0; i < tones.size(); ++i)
                sound[48000 + i] += gain * static_cast<double>(tones[i]);
            taps::Detector detector(48000);
            auto found = detector.push(synth::to_floats(sound));
            for (auto& tap : detector.finish())
                found.push_back(std::move(tap));
            for (const auto& tap : found)
                CHECK(tap.verdict != taps::Verdict::accepted);
        }
    }
}

TEST_CASE("the guide goes through modes 5, 2 and 1 and then asks for nothing") {
    taps::Spot spot = taps::Spot::centre;
    std::vector<int> sought;
    for (; spot != taps::Spot::unknown; spot = bench::next_sought(spot))
        sought.push_back(bench::mode_sought(spot));
    CHECK(sought == std::vector<int>{5, 2, 1});
    CHECK(bench::mode_sought(taps::Spot::unknown) == 0);
}
