#include "speed/detection/sounds.hpp"

#include <array>
#include <cmath>
#include <cstdio>
#include <cstring>
#include <numbers>
#include <stdexcept>

namespace detection {
namespace {

struct Sentence {
    const char *voice, *words;
};
constexpr std::array k_sentences{
    Sentence{"en-gb", "Hand me the small scraper, would you? The one with the round corner."},
    Sentence{"en-gb+f3", "That back is still too thick under the upper bout."},
    Sentence{"en-us+m3", "Did you put the kettle on? Good. Two sugars, please."},
    Sentence{"en-gb-scotland+m7", "One, two, three, four. Stop. Take a little more off the edge."},
    Sentence{"de", "Kannst du bitte die Tür zumachen? Es zieht, und der Leim wird kalt."},
    Sentence{"de+f2", "Papperlapapp, das Brett klopft doch dumpf."},
    Sentence{"it", "Batti un po' più piano, per favore, vicino al bordo."},
    Sentence{"it+f4", "Quanto pesa adesso? Centoquattro grammi."},
    Sentence{"fr-fr", "Passe-moi le compas d'épaisseur, s'il te plaît."},
    Sentence{"fr-fr+f1", "Attends, je te rappelle dans dix minutes, d'accord ?"},
    Sentence{"pl", "Proszę podać mi dłuto, to wąskie, leży pod oknem."},
    Sentence{"cs+f2", "Kdo to klepe na dveře? Pojďte dál, prosím."},
    Sentence{"es+m2", "Todavía pesa demasiado, quita un poco del centro."},
    Sentence{"ja", "chotto matte kudasai. ima kiite imasu."},
};

/// What espeak-ng makes of the words, as 16-bit samples behind a WAV header of 44 bytes, 22 050 a
/// second.
std::vector<double> spoken(const Sentence& sentence, int pitch, int words_a_minute) {
    std::array<char, 400> command{};
    std::snprintf(command.data(), command.size(), "espeak-ng --stdout -v %s -p %d -s %d \"%s\"",
                  sentence.voice, pitch, words_a_minute, sentence.words);
    std::FILE* pipe = popen(command.data(), "r");
    std::vector<unsigned char> bytes;
    std::array<unsigned char, 4096> some{};
    for (std::size_t got = 0; pipe && (got = std::fread(some.data(), 1, some.size(), pipe)) > 0;)
        bytes.insert(bytes.end(), some.begin(), some.begin() + static_cast<std::ptrdiff_t>(got));
    if (!pipe || pclose(pipe) != 0 || bytes.size() < 10000)
        throw std::runtime_error("espeak-ng did not speak: install Debian's espeak-ng");
    std::vector<double> samples;
    for (std::size_t i = 44; i + 1 < bytes.size(); i += 2)
        samples.push_back(static_cast<std::int16_t>(bytes[i] | bytes[i + 1] << 8));
    return samples;
}

/// From 22 050 Hz to ours, by windowed sinc interpolation over 16 samples.
Signal at_our_rate(const std::vector<double>& samples) {
    constexpr double from_hz = 22050;
    constexpr std::ptrdiff_t half = 8;
    Signal out(static_cast<std::size_t>(static_cast<double>(samples.size()) * k_rate_hz / from_hz));
    for (std::size_t n = 0; n < out.size(); ++n) {
        const double at = static_cast<double>(n) * from_hz / k_rate_hz;
        const auto whole = static_cast<std::ptrdiff_t>(at);
        for (std::ptrdiff_t k = whole - half + 1; k <= whole + half; ++k) {
            if (k < 0 || k >= static_cast<std::ptrdiff_t>(samples.size()))
                continue;
            const double x = std::numbers::pi * (at - static_cast<double>(k));
            const double window = 0.5 + 0.5 * std::cos(x / static_cast<double>(half));
            out[n] += samples[static_cast<std::size_t>(k)] * window *
                      (std::abs(x) < 1e-9 ? 1 : std::sin(x) / x);
        }
    }
    return out;
}

} // namespace

Speakers::Speakers(int sentences, std::uint64_t seed) {
    Random random(seed);
    for (int i = 0; i < sentences; ++i) {
        const auto& sentence = k_sentences[static_cast<std::size_t>(i) % k_sentences.size()];
        Signal said = at_our_rate(spoken(sentence, static_cast<int>(random.between(15, 85)),
                                         static_cast<int>(random.between(110, 210))));
        const double loudest = demo::peak(said);
        for (double& x : said)
            x /= loudest;
        said_.push_back(std::move(said));
    }
}

Signal Speakers::say(Random& random) const {
    const Signal& all =
        said_[static_cast<std::size_t>(random.even() * static_cast<double>(said_.size()))];
    const double share = random.between(0.3, 1), from = random.between(0, 1 - share);
    const auto begin = static_cast<std::ptrdiff_t>(from * static_cast<double>(all.size()));
    const auto length = static_cast<std::ptrdiff_t>(share * static_cast<double>(all.size()));
    Signal part(all.begin() + begin, all.begin() + begin + length);
    // Nobody begins in the middle of a vowel at full voice: 20 ms to come in and go out.
    const auto fade = static_cast<std::size_t>(0.02 * k_rate_hz);
    for (std::size_t n = 0; n < fade && 2 * fade < part.size(); ++n) {
        part[n] *= static_cast<double>(n) / static_cast<double>(fade);
        part[part.size() - 1 - n] *= static_cast<double>(n) / static_cast<double>(fade);
    }
    return part;
}

} // namespace detection
