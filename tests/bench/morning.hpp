#pragma once
// What a morning at the bench begins with: a plate with an earlier session, and strikes to come.
#include "audio/recording.hpp"
#include "bench/sound/listening.hpp"
#include "bench/workbench.hpp"
#include "ledger/store.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"

#include <filesystem>
#include <sndfile.h>
#include <vector>

namespace platewright::test {

inline const std::vector<synth::Ring> k_back{{115, 50, 0.05}, {170, 58, 0.1}, {355, 62, 0.2}};

inline void write_wav(const std::filesystem::path& path, const std::vector<double>& sound,
                      int sample_format = SF_FORMAT_PCM_24) {
    SF_INFO info{};
    info.samplerate = 48000;
    info.channels = 1;
    info.format = SF_FORMAT_WAV | sample_format;
    SNDFILE* file = sf_open(path.c_str(), SFM_WRITE, &info);
    sf_writef_double(file, sound.data(), static_cast<sf_count_t>(sound.size()));
    sf_close(file);
}

/// A recording of one strike after another, 1.3 s apart from 0.6 s on.
inline std::filesystem::path strikes(const std::filesystem::path& folder,
                                     const std::vector<std::vector<synth::Ring>>& plates,
                                     int sample_format = SF_FORMAT_PCM_24) {
    std::vector<double> sound(
        static_cast<std::size_t>((0.6 + 1.3 * static_cast<double>(plates.size())) * 48000));
    synth::Normal normal(7);
    double at_s = 0.6;
    for (const auto& plate : plates) {
        synth::add_strike(sound, 48000, static_cast<std::size_t>(at_s * 48000), plate);
        at_s += 1.3;
    }
    synth::add_noise(sound, 1e-4, normal);
    const auto path = folder / "taps.wav";
    write_wav(path, sound, sample_format);
    return path;
}

/// A recording of two strikes on a violin back, at 0.6 and 1.9 s.
inline std::filesystem::path two_taps(const std::filesystem::path& folder) {
    return strikes(folder, {k_back, k_back});
}

/// A plate with one session of three taps, begun so many days ago.
inline ledger::Id plate_of_days_ago(const std::filesystem::path& folder, std::int64_t days,
                                    const std::filesystem::path& sound) {
    ledger::Store store(folder);
    const auto instrument = store.add(ledger::InstrumentRecord{.label = "Wren"});
    const auto plate =
        store.add(ledger::PlateRecord{.instrument = instrument, .label = "Wren back"});
    bench::Workbench bench(store, {});
    bench.begin_session({.plate = plate,
                         .begun = {base::now().ms_since_epoch - days * 86'400'000},
                         .stage = modes::Stage::graduated,
                         .mass_g = 104});
    auto recording = audio::Recording::open(sound);
    REQUIRE(recording);
    bench::Listening listening(std::move(*recording), {});
    for (bool ended = false; !ended;) {
        auto step = listening.step();
        ended = step.ended;
        for (auto& tap : step.taps)
            bench.keep(std::move(tap));
    }
    bench.settle();
    store.set_setting("bench.plate", std::to_string(plate));
    return plate;
}

/// One good tap on such a back.
inline taps::Tap ring(std::uint32_t seed) {
    synth::Normal normal(seed);
    const std::vector<synth::Ring> back{
        {115, 50, 0.05, 0.3}, {170, 58, 0.10, 1.0}, {355, 62, 0.20, 0.7}};
    return synth::tap(back, normal);
}

} // namespace platewright::test
