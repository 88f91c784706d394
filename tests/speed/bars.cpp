// Recorded strikes by other people, one a file: after how much quiet is each read, and how far from
// the peak of its Fourier transform? After digital silence, after white noise of several levels,
// and in eight bits.
//   speed_bars FOLDER     with a MANIFEST.tsv: file, source, licence, strongest_hz
#include "outside/bars.hpp"

#include "modes/estimate/fit.hpp"
#include "support/synth.hpp"
#include "taps/onset/detector.hpp"
#include "taps/onset/digital_silence.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

namespace {

using namespace platewright;

struct Setting {
    const char* name;
    double room_dbfs; ///< of the noise; -300: none
    int bits;         ///< it is rounded to; 0: not
};

struct Score {
    int read = 0, right = 0, struck_twice = 0, gated = 0;
    double farthest_cents = 0;
};

std::vector<float> heard(const outside::Bar& bar, const Setting& setting) {
    synth::Normal normal(1);
    const auto quiet = static_cast<std::size_t>(0.6 * bar.sample_rate_hz);
    std::vector<double> sound(quiet + bar.samples.size());
    std::ranges::copy(bar.samples, sound.begin() + static_cast<std::ptrdiff_t>(quiet));
    if (setting.room_dbfs > -300)
        synth::add_noise(sound, std::pow(10, setting.room_dbfs / 20), normal);
    const double steps = std::ldexp(1.0, setting.bits - 1);
    for (double& x : sound)
        x = setting.bits > 0 ? std::round(x * steps) / steps : x;
    return synth::to_floats(sound);
}

void read(const outside::Bar& bar, const Setting& setting, double high_hz, Score& score) {
    taps::Detector detector(bar.sample_rate_hz, {.high_hz = high_hz});
    auto taps = detector.push(heard(bar, setting));
    for (taps::Tap& tap : detector.finish())
        taps.push_back(std::move(tap));
    std::erase_if(taps, taps::begins_with_stream); // the room
    if (taps.empty())
        return;
    score.struck_twice += taps[0].verdict == taps::Verdict::struck_twice ? 1 : 0;
    if (taps[0].verdict != taps::Verdict::accepted)
        return;
    const modes::Fit fit = modes::fit_tap(taps[0], {.high_hz = high_hz});
    if (fit.status != modes::FitStatus::ok)
        return;
    ++score.read;
    score.gated += taps::follows_digital_silence(taps[0]) ? 1 : 0;
    double nearest_cents = 1e9;
    for (const modes::Partial& p : fit.partials)
        nearest_cents =
            std::min(nearest_cents, std::abs(1200 * std::log2(p.frequency_hz / bar.label_hz)));
    score.right += nearest_cents < 5 ? 1 : 0;
    score.farthest_cents = std::max(score.farthest_cents, nearest_cents);
}

} // namespace

int main(int argc, char** argv) {
    if (argc < 2)
        return 1;
    const std::filesystem::path folder = argv[1];
    std::vector<outside::Bar> bars;
    std::ifstream manifest(folder / "MANIFEST.tsv");
    std::string line;
    for (std::getline(manifest, line); std::getline(manifest, line);) {
        std::istringstream columns(line);
        std::string file, source, licence, strongest_hz;
        for (std::string* column : {&file, &source, &licence, &strongest_hz})
            std::getline(columns, *column, '\t');
        bars.push_back(outside::read_bar(folder / file, std::stod(strongest_hz)));
    }
    std::printf("| before the strike | band to | read | of them within 5 cents | farthest, cents | "
                "struck twice | called gated |\n|---|---|---|---|---|---|---|\n");
    for (const Setting& setting :
         {Setting{"digital silence", -300, 0}, Setting{"-120 dBFS", -120, 0},
          Setting{"-110 dBFS", -110, 0}, Setting{"-90 dBFS", -90, 0}, Setting{"-60 dBFS", -60, 0},
          Setting{"-66 dBFS in 8 bits", -66, 8}})
        for (const double high_hz : {2500.0, 6000.0}) {
            Score score;
            for (const outside::Bar& bar : bars)
                read(bar, setting, high_hz, score);
            std::printf("| %s | %.0f Hz | %d of %zu | %d | %.1f | %d | %d |\n", setting.name,
                        high_hz, score.read, bars.size(), score.right, score.farthest_cents,
                        score.struck_twice, score.gated);
            std::fflush(stdout);
        }
}
