// The way from samples to taps, without a window or a ledger.
#include "audio/recording.hpp"
#include "bench/sound/again.hpp"
#include "bench/sound/listening.hpp"
#include "modes/ring/ring_evidence.hpp"
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

namespace {

std::vector<bench::HeardTap> heard_in(const std::filesystem::path& path) {
    auto recording = audio::Recording::open(path);
    REQUIRE(recording);
    bench::Listening listening(std::move(*recording), {});
    std::vector<bench::HeardTap> heard;
    for (bool ended = false; !ended;) {
        auto step = listening.step();
        ended = step.ended;
        for (auto& tap : step.taps)
            heard.push_back(std::move(tap));
    }
    return heard;
}

} // namespace

TEST_CASE("what sounds already when a recording begins is no strike, and the strike after it is") {
    TemporaryFolder folder;
    for (const char* begins_with : {"noise", "hum", "voice"}) {
        CAPTURE(begins_with);
        std::vector<double> sound(static_cast<std::size_t>(5 * 48000));
        synth::Normal normal(17);
        synth::add_noise(sound, 3e-3, normal, 0.9);
        if (std::string_view(begins_with) == "hum")
            for (const double hz : {50.0, 100.0, 150.0, 250.0})
                synth::add_line(sound, 48000, hz, 0.003);
        if (std::string_view(begins_with) == "voice") // glides, and swells with each syllable
            for (std::size_t n = 0; n < 96000; ++n) {
                const double t = static_cast<double>(n) / 48000, turns = 140 * t + 15 * t * t;
                for (const int k : {1, 2, 3, 4, 6})
                    sound[n] += 0.1 / k * (1 + std::sin(2 * std::numbers::pi * 4 * t + 1)) *
                                std::sin(2 * std::numbers::pi * k * turns);
            }
        std::vector<synth::Ring> rings;
        for (const double hz : {98.0, 167.0, 243.0, 352.0, 471.0})
            rings.push_back({hz, 55, 0.1, hz});
        synth::add_strike(sound, 48000, 3 * 48000, rings);
        const auto path = folder.path() / "begins.wav";
        write_wav(path, sound);
        const auto taps = heard_in(path);
        CHECK(std::ranges::none_of(taps, taps::begins_with_stream,
                                   [](const auto& heard) { return heard.tap; }));
        CHECK(std::ranges::count_if(taps, [](const auto& heard) {
                  return taps::counts(heard.tap.verdict) &&
                         std::abs(heard.tap.onset_s() - 3) < 0.01;
              }) == 1);
    }
}

namespace {

/// A plate in the hand, invented: Q 13, some 20 dB over the room; each strike loud elsewhere.
std::vector<double> damped_session(int strikes, std::uint32_t seed) {
    synth::Normal normal(seed);
    std::vector<double> sound(static_cast<std::size_t>((1 + 1.5 * strikes) * 48000));
    for (int i = 0; i < strikes; ++i) {
        std::vector<synth::Ring> rings;
        for (const double hz : {158.0, 243.0, 338.0, 421.0, 530.0, 655.0})
            rings.push_back({hz, 13, 0.010 * (0.3 + normal.uniform()), 6.28 * normal.uniform()});
        synth::add_strike(sound, 48000, static_cast<std::size_t>((1 + 1.5 * i) * 48000), rings);
    }
    synth::add_noise(sound, 1e-3, normal, 0.8);
    return sound;
}

std::ptrdiff_t counting(const std::vector<bench::HeardTap>& taps) {
    return std::ranges::count_if(taps, taps::counts,
                                 [](const auto& tap) { return tap.tap.verdict; });
}

} // namespace

TEST_CASE("taps of a damped plate tell of each other, and not of what else sounds") {
    TemporaryFolder folder;
    std::ptrdiff_t strikes = 0, alone = 0, together = 0, asked = 0;
    for (std::uint32_t seed = 1; seed <= 6; ++seed) {
        write_wav(folder.path() / "damped.wav", damped_session(7, seed));
        std::vector<bench::HeardTap> heard = heard_in(folder.path() / "damped.wav");
        strikes += std::ssize(heard);
        alone += counting(heard);
        const auto recognised = bench::recognise(heard);
        together += counting(heard);
        CHECK(counting(heard) - std::ssize(recognised) >= 2);
        bench::HeardTap other{.tap = {}, // as doubtful a sound, none of whose tones is the plate's
                              .partials = {{.frequency_hz = 201, .frequency_sd_hz = 1, .q = 12},
                                           {.frequency_hz = 587, .frequency_sd_hz = 1, .q = 12}},
                              .picture = {}};
        other.tap.verdict = taps::Verdict::doubtful;
        for (const bench::HeardTap& tap : heard)
            if (modes::may_be_ring(tap.evidence) && !modes::is_ring(tap.evidence))
                other.evidence = tap.evidence;
        if (!modes::may_be_ring(other.evidence))
            continue; // none was in doubt
        ++asked;
        CHECK_FALSE(bench::accept_if_recognised(other, heard));
        other.partials[0].frequency_hz = 243;
        other.partials[1].frequency_hz = 530;
        CHECK(bench::accept_if_recognised(other, heard));
    }
    CAPTURE(strikes, alone, together);
    CHECK(strikes == 42);
    CHECK(asked >= 4);
    CHECK(alone < 34); // a third is in doubt by itself
    CHECK(together >= 40);
}

TEST_CASE("doubtful taps that later ones tell of are accepted in the ledger, with what was read") {
    TemporaryFolder folder;
    write_wav(folder.path() / "damped.wav", damped_session(7, 1));
    ledger::Store store(folder.path() / "ledger");
    const auto instrument = store.add(ledger::InstrumentRecord{.label = "Wren"});
    const auto plate =
        store.add(ledger::PlateRecord{.instrument = instrument, .label = "Wren back"});
    bench::Workbench bench(store, {});
    bench.begin_session({.plate = plate, .begun = base::now()});
    for (bench::HeardTap& tap : heard_in(folder.path() / "damped.wav"))
        bench.keep(std::move(tap));
    const auto verdicts = [&] {
        std::vector<taps::Verdict> all;
        for (const ledger::TapRecord& tap : store.history(plate)->sessions.at(0).taps)
            all.push_back(tap.verdict);
        return all;
    };
    const auto doubtful = std::ranges::count(verdicts(), taps::Verdict::doubtful);
    CHECK(doubtful >= 2);
    CHECK(bench.recognise() == doubtful);
    CHECK(bench.recognise() == 0);
    bench.settle();
    CHECK(std::ranges::count(verdicts(), taps::Verdict::accepted) == std::ssize(verdicts()));
    for (const ledger::TapRecord& tap : store.history(plate)->sessions.at(0).taps)
        CHECK_FALSE(tap.partials.empty());
    CHECK(bench.view()->naming.modes.size() >= 4);
    const auto again = bench::analyse_again(store, *store.history(plate), {}, {});
    REQUIRE(again.size() == 1);
    CHECK(again[0].not_rung == 0); // though some are doubtful by themselves
}
