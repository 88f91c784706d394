#include "outside/bars.hpp"
#include "speed/rings/cases.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <numbers>
#include <sstream>
#include <stdexcept>
#include <string_view>

namespace rings {
namespace {

namespace fs = std::filesystem;

const fs::path k_freepats = "/usr/share/midi/freepats";

/// What a patch is to be taken for, by words of its file's name; those not named here are left out.
struct Named {
    const char *word, *group;
    Kind kind;
};
constexpr std::array k_patches{
    Named{"Xylophone", "freepats: marimba, xylophone", Kind::strike},
    Named{"Glockenspiel", "freepats: glockenspiel", Kind::strike},
    Named{"Kick", "freepats: drums that thud", Kind::disturbance},
    Named{"Snare", "freepats: snares, rattles, claps", Kind::disturbance},
    Named{"Clap", "freepats: snares, rattles, claps", Kind::disturbance},
    Named{"Snap", "freepats: snares, rattles, claps", Kind::disturbance},
    Named{"Stick", "freepats: snares, rattles, claps", Kind::disturbance},
    Named{"Hi-Hat", "freepats: snares, rattles, claps", Kind::disturbance},
    Named{"Cabasa", "freepats: snares, rattles, claps", Kind::disturbance},
    Named{"Maracas", "freepats: snares, rattles, claps", Kind::disturbance},
    Named{"Guiro", "freepats: snares, rattles, claps", Kind::disturbance},
    Named{"Shaker", "freepats: snares, rattles, claps", Kind::disturbance},
    Named{"Tombourine", "freepats: snares, rattles, claps", Kind::disturbance},
    Named{"Vibra-Slap", "freepats: snares, rattles, claps", Kind::disturbance},
    Named{"Cuica", "freepats: snares, rattles, claps", Kind::disturbance},
    Named{"Organ", "freepats: winds, bows, voices", Kind::disturbance},
    Named{"Accordion", "freepats: winds, bows, voices", Kind::disturbance},
    Named{"_Violin", "freepats: winds, bows, voices", Kind::disturbance},
    Named{"_Cello", "freepats: winds, bows, voices", Kind::disturbance},
    Named{"Tremolo", "freepats: winds, bows, voices", Kind::disturbance},
    Named{"Ensemble", "freepats: winds, bows, voices", Kind::disturbance},
    Named{"Voice", "freepats: winds, bows, voices", Kind::disturbance},
    Named{"Trumpet", "freepats: winds, bows, voices", Kind::disturbance},
    Named{"Trombone", "freepats: winds, bows, voices", Kind::disturbance},
    Named{"Tuba", "freepats: winds, bows, voices", Kind::disturbance},
    Named{"Horn", "freepats: winds, bows, voices", Kind::disturbance},
    Named{"Brass", "freepats: winds, bows, voices", Kind::disturbance},
    Named{"Sax", "freepats: winds, bows, voices", Kind::disturbance},
    Named{"Tom_", "freepats: skins", Kind::other},
    Named{"Bongo", "freepats: skins", Kind::other},
    Named{"Conga", "freepats: skins", Kind::other},
    Named{"Timbale", "freepats: skins", Kind::other},
    Named{"Piano", "freepats: struck and plucked strings", Kind::other},
    Named{"Guitar", "freepats: struck and plucked strings", Kind::other},
    Named{"Harp", "freepats: struck and plucked strings", Kind::other},
    Named{"Pizzicato", "freepats: struck and plucked strings", Kind::other},
    Named{"Claves", "freepats: blocks and bells", Kind::other},
    Named{"Wood_Block", "freepats: blocks and bells", Kind::other},
    Named{"Agogo", "freepats: blocks and bells", Kind::other},
    Named{"Cow_Bell", "freepats: blocks and bells", Kind::other},
    Named{"Triangle", "freepats: blocks and bells", Kind::other},
};

/// At most two seconds of it after half a second of a quiet room, or of one 35 dB under its first
/// 20 ms.
Case played(const outside::Bar& bar, bool noisy, Random& random) {
    Case made;
    made.rate_hz = bar.sample_rate_hz;
    made.at_s = 0.6;
    made.high_hz = std::min(6000.0, 0.45 * bar.sample_rate_hz);
    const auto at = static_cast<std::size_t>(made.at_s * bar.sample_rate_hz);
    const auto size =
        std::min(bar.samples.size(), static_cast<std::size_t>(2 * bar.sample_rate_hz));
    double loudest = 1e-6;
    for (std::size_t n = 0; n < size; ++n)
        loudest = std::max(loudest, std::abs(static_cast<double>(bar.samples[n])));
    made.sound = detection::steady_room(at + size + at, random);
    const double floor = noisy ? std::pow(10, -58.0 / 20) : std::pow(10, -85.0 / 20);
    for (double& x : made.sound)
        x *= floor;
    for (std::size_t n = 0; n < size; ++n)
        made.sound[at + n] += 0.4 / loudest * static_cast<double>(bar.samples[n]);
    return made;
}

/// The same bar touched again: its own sound once more, later, weaker, through a contact of 1 to 4
/// ms, as a linear bar would give it.
void touch_again(const outside::Bar& bar, Random& random, Case& made) {
    made.again_s = 0.008 * std::pow(300.0 / 8, random.even());
    const double weaker = std::pow(10, -random.between(3, 16) / 20);
    const auto contact =
        static_cast<std::size_t>(random.between(0.001, 0.004) * bar.sample_rate_hz);
    std::vector<double> soft(bar.samples.size());
    double sharp_energy = 0, soft_energy = 0;
    const std::size_t first =
        std::min(bar.samples.size(), static_cast<std::size_t>(0.1 * bar.sample_rate_hz));
    for (std::size_t n = 0; n < bar.samples.size(); ++n) {
        for (std::size_t k = 0; k < std::min(contact, n); ++k)
            soft[n] += std::sin(std::numbers::pi * (static_cast<double>(k) + 0.5) /
                                static_cast<double>(contact)) *
                       static_cast<double>(bar.samples[n - k]);
        if (n < first) {
            soft_energy += soft[n] * soft[n];
            sharp_energy +=
                static_cast<double>(bar.samples[n]) * static_cast<double>(bar.samples[n]);
        }
    }
    double loudest = 1e-6;
    for (const float x : bar.samples)
        loudest = std::max(loudest, std::abs(static_cast<double>(x)));
    const double gain =
        0.4 / loudest * weaker * std::sqrt(sharp_energy / std::max(1e-12, soft_energy));
    const auto at = static_cast<std::size_t>((made.at_s + made.again_s) * bar.sample_rate_hz);
    for (std::size_t n = 0; n < soft.size() && at + n < made.sound.size(); ++n)
        made.sound[at + n] += gain * soft[n];
    made.kind = Kind::twice;
    made.group = made.again_s < 0.03  ? "recorded bar, second contact after 8 to 30 ms"
                 : made.again_s < 0.1 ? "recorded bar, second contact after 30 to 100 ms"
                                      : "recorded bar, second contact after 100 to 300 ms";
}

void play(const outside::Bar& bar, const std::string& group, const std::string& source, Kind kind,
          std::uint64_t seed, const Take& take) {
    for (const bool noisy : {false, true})
        for (const double high_hz : {2500.0, 6000.0}) {
            Random random(seed);
            Case made = played(bar, noisy, random);
            made.group = group;
            made.source = source;
            made.kind = kind;
            made.high_hz = std::min(high_hz, made.high_hz);
            Case again = made;
            take(std::move(made));
            if (kind != Kind::strike)
                continue;
            touch_again(bar, random, again);
            take(std::move(again));
        }
}

} // namespace

void recorded(const std::string& folder, std::uint64_t seed, const Take& take) {
    std::vector<fs::path> patches;
    if (fs::is_directory(k_freepats))
        for (const auto& entry : fs::recursive_directory_iterator(k_freepats))
            if (entry.path().extension() == ".pat")
                patches.push_back(entry.path());
    std::sort(patches.begin(), patches.end());
    for (const fs::path& patch : patches) {
        const std::string name = patch.stem().string();
        const auto* known = std::find_if(k_patches.begin(), k_patches.end(), [&](const Named& n) {
            return name.find(n.word) != std::string::npos;
        });
        if (known == k_patches.end())
            continue;
        try {
            const auto bars = outside::read_patch(patch);
            for (std::size_t k = 0;
                 k < std::min<std::size_t>(bars.size(), known->kind == Kind::strike ? 99 : 3); ++k)
                play(bars[k], known->group, known->kind == Kind::strike ? known->group : name,
                     known->kind, ++seed, take);
        } catch (const std::runtime_error&) {
            // of another layout, or in 8 bits: left out
        }
    }
    std::ifstream manifest(fs::path(folder) / "MANIFEST.tsv");
    std::string line;
    for (std::getline(manifest, line); std::getline(manifest, line);) {
        const std::string file = line.substr(0, line.find('\t'));
        const std::string family = file.substr(0, file.find('-'));
        play(outside::read_bar(fs::path(folder) / file, 0), "recorded: " + family,
             "recorded: " + family, Kind::strike, ++seed, take);
    }
}

} // namespace rings
