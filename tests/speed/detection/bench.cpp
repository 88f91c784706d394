// How well strikes are found in a noisy workshop, beside aubio's onset detection on the same files.
//   speed_detection [SEED [SCENES [HOUR_SCENES]]]    (seed 33000: the reported table; others for
//   tuning)
// Needs espeak-ng; without aubioonset its columns stay empty. Prints Markdown.
#include "speed/detection/scene.hpp"
#include "taps/verdict.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <map>
#include <sndfile.h>
#include <string>
#include <unistd.h>

using namespace detection;
namespace taps = platewright::taps;

namespace {

/// aubio: as it comes, and asked for what strikes are, loud and apart.
struct Peer {
    const char *name, *options;
};
constexpr std::array k_peers{Peer{"aubio as it comes", ""},
                             Peer{"aubio -t 0.5 -M 0.3", "-t 0.5 -M 0.3"}};

/// Onsets aubio finds, by way of a file of 32-bit floats.
std::vector<double> aubio(const std::vector<float>& sound, const Peer& peer) {
    const auto file =
        std::filesystem::temp_directory_path() / ("detection-" + std::to_string(getpid()) + ".wav");
    SF_INFO info{};
    info.samplerate = static_cast<int>(k_rate_hz);
    info.channels = 1;
    info.format = SF_FORMAT_WAV | SF_FORMAT_FLOAT;
    if (SNDFILE* out = sf_open(file.c_str(), SFM_WRITE, &info)) {
        sf_writef_float(out, sound.data(), static_cast<sf_count_t>(sound.size()));
        sf_close(out);
    }
    std::vector<double> onsets;
    const std::string command =
        "aubioonset -r 0 " + std::string(peer.options) + " -i " + file.string() + " 2>/dev/null";
    if (std::FILE* pipe = popen(command.c_str(), "r")) {
        for (double at = 0; std::fscanf(pipe, "%lf", &at) == 1;)
            onsets.push_back(at);
        pclose(pipe);
    }
    std::filesystem::remove(file);
    return onsets;
}

struct Row {
    Score kept, heard; // accepted taps; strikes heard at all, whatever the verdict
    std::array<Score, k_peers.size()> peers;
    std::map<std::string, int> refused;
};

double at_share(std::vector<double> values, double share) {
    if (values.empty())
        return NAN;
    for (double& x : values)
        x = std::abs(x);
    std::sort(values.begin(), values.end());
    return values[static_cast<std::size_t>(share * static_cast<double>(values.size() - 1))];
}

struct Clock {
    double cpu_s = 0, sound_s = 0;
    std::vector<taps::Tap> operator()(const Scene& scene) {
        const std::clock_t start = std::clock();
        auto found = detect(scene.sound);
        cpu_s += static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
        sound_s += static_cast<double>(scene.sound.size()) / k_rate_hz;
        return found;
    }
};

void add(Row& row, const Scene& scene, Clock& clock) {
    const auto found = clock(scene);
    row.kept.add(scene, accepted(found));
    std::vector<double> all;
    for (const auto& tap : found) {
        all.push_back(tap.onset_s());
        for (const double truth : scene.strikes_s)
            if (std::abs(tap.onset_s() - truth) < 0.05 && tap.verdict != taps::Verdict::accepted)
                ++row.refused[std::string(taps::to_text(tap.verdict))];
    }
    row.heard.add(scene, all);
    for (std::size_t i = 0; i < k_peers.size(); ++i)
        row.peers[i].add(scene, aubio(scene.sound, k_peers[i]));
}

void print(const std::string& name, const Row& row) {
    std::printf("| %s | %d | %.3f | %.3f | %.4f | %.3f | %.2f | %.2f | %.2f |", name.c_str(),
                row.kept.strikes, row.kept.recall(), row.kept.precision(), row.kept.f_measure(),
                row.heard.recall(), at_share(row.kept.late_ms, 0.5),
                at_share(row.kept.late_ms, 0.95), at_share(row.kept.late_ms, 1));
    for (const Score& peer : row.peers)
        std::printf(" %.3f (%.2f, %.2f) |", peer.f_measure(), peer.recall(), peer.precision());
    std::string why;
    for (const auto& [reason, count] : row.refused)
        why += (why.empty() ? "" : ", ") + std::to_string(count) + " " + reason;
    std::printf(" %s |\n", why.c_str());
    std::fflush(stdout);
}

void head() {
    std::printf("\n| level | strikes | recall | precision | F | heard | onset off: median, ms | 95 "
                "%% | worst |");
    for (const Peer& peer : k_peers)
        std::printf(" %s: F (recall, precision) |", peer.name);
    std::printf(" refused |\n|%s\n", "---|---|---|---|---|---|---|---|---|---|---|---|");
}

void levels(const char* title, double disturbed, int scenes, const Speakers& speakers,
            std::uint64_t seed, Clock& clock) {
    std::printf("\n### %s\n", title);
    head();
    for (const double level_db : {10.0, 15.0, 20.0, 30.0, 40.0, 50.0}) {
        Row row;
        for (int i = 0; i < scenes; ++i) {
            // Louder strikes need a lower floor, to stay under full scale.
            Random pick(seed + 77 * static_cast<std::uint64_t>(i));
            const SceneParams params{.level_db = level_db,
                                     .disturbed = disturbed,
                                     .floor_dbfs =
                                         pick.between(-75, std::min(-45.0, -22 - level_db))};
            add(row,
                make_scene(static_cast<Family>(i % 3), params, speakers,
                           seed + static_cast<std::uint64_t>(i) * 31 +
                               static_cast<std::uint64_t>(level_db) * 1009),
                clock);
        }
        print(std::to_string(static_cast<int>(level_db)) + " dB", row);
    }
}

void hour(int scenes, const Speakers& speakers, std::uint64_t seed, Clock& clock) {
    int disturbances = 0;
    double seconds = 0;
    std::map<std::string, int> verdicts, peers;
    for (int i = 0; i < scenes; ++i) {
        Random pick(seed + 5 * static_cast<std::uint64_t>(i));
        const SceneParams params{
            .seconds = 300, .level_db = {}, .floor_dbfs = pick.between(-75, -45)};
        const Scene scene = make_scene(Family::violin, params, speakers,
                                       seed + 100003 + static_cast<std::uint64_t>(i));
        seconds += params.seconds;
        disturbances += static_cast<int>(scene.stirs_s.size());
        for (const auto& tap : clock(scene)) {
            ++verdicts[std::string(taps::to_text(tap.verdict))];
            if (tap.verdict != taps::Verdict::accepted)
                continue;
            const auto after =
                std::upper_bound(scene.stirs_s.begin(), scene.stirs_s.end(), tap.onset_s() + 0.01);
            const auto which = after - scene.stirs_s.begin();
            std::fprintf(
                stderr, "accepted in scene %d at %.3f s: disturbance kind %d begun %.3f s before\n",
                i, tap.onset_s(),
                which > 0 ? static_cast<int>(scene.kinds[static_cast<std::size_t>(which - 1)]) : -1,
                which > 0 ? tap.onset_s() - scene.stirs_s[static_cast<std::size_t>(which - 1)] : 0);
        }
        for (const Peer& peer : k_peers)
            peers[peer.name] += static_cast<int>(aubio(scene.sound, peer).size());
    }
    std::printf(
        "\n### No strikes: %.0f minutes, %d disturbances\n\n| verdict | taps |\n|---|---|\n",
        seconds / 60, disturbances);
    std::printf("| **accepted** | **%d** |\n", verdicts["accepted"]);
    for (const auto& [verdict, count] : verdicts)
        if (verdict != "accepted")
            std::printf("| %s | %d |\n", verdict.c_str(), count);
    for (const auto& [name, count] : peers)
        std::printf("| onsets: %s | %d |\n", name.c_str(), count);
}

} // namespace

int main(int argc, char** argv) {
    const std::uint64_t seed = argc > 1 ? std::strtoull(argv[1], nullptr, 10) : 33000;
    const int scenes = argc > 2 ? std::atoi(argv[2]) : 6,
              hour_scenes = argc > 3 ? std::atoi(argv[3]) : 12;
    const Speakers speakers(42, seed);
    Clock clock;
    std::printf("Seed %llu.\n", static_cast<unsigned long long>(seed));
    levels("Strikes in a steady room", 0, scenes, speakers, seed, clock);
    levels("Strikes between disturbances", 0.5, scenes, speakers, seed + 500, clock);
    hour(hour_scenes, speakers, seed, clock);
    std::printf(
        "\nDetection and fits: %.0f s of sound in %.2f s of one core, %.0f times real time.\n",
        clock.sound_s, clock.cpu_s, clock.sound_s / clock.cpu_s);
}
