#include "report/page/page_sound.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <vector>

namespace platewright::report {
namespace {

constexpr double k_before_s = 0.02, k_fade_s = 0.15;
constexpr double k_highest_rate_hz = 26000.0;

/// Every n-th sample of what is left below the new rate's half: a windowed sinc (Blackman), its
/// stop band from 0.55 of the new rate on.
std::vector<double> slower(const std::vector<double>& samples, std::size_t every) {
    if (every == 1)
        return samples;
    const auto reach = static_cast<std::ptrdiff_t>(24 * every);
    const double cut = 0.45 / static_cast<double>(every); // cycles a sample
    std::vector<double> taps(static_cast<std::size_t>(2 * reach + 1));
    for (std::ptrdiff_t k = -reach; k <= reach; ++k) {
        const double x = static_cast<double>(k),
                     turn = std::numbers::pi * x / static_cast<double>(reach);
        const double window = 0.42 + 0.5 * std::cos(turn) + 0.08 * std::cos(2.0 * turn);
        const double sinc =
            k == 0 ? 2.0 * cut
                   : std::sin(2.0 * std::numbers::pi * cut * x) / (std::numbers::pi * x);
        taps[static_cast<std::size_t>(k + reach)] = window * sinc;
    }
    std::vector<double> fewer;
    const auto count = static_cast<std::ptrdiff_t>(samples.size());
    for (std::ptrdiff_t at = 0; at < count; at += static_cast<std::ptrdiff_t>(every)) {
        double sum = 0.0;
        for (std::ptrdiff_t k = std::max(-reach, -at); k <= std::min(reach, count - 1 - at); ++k)
            sum += taps[static_cast<std::size_t>(k + reach)] *
                   samples[static_cast<std::size_t>(at + k)];
        fewer.push_back(sum);
    }
    return fewer;
}

void put(std::string& bytes, std::uint32_t value, int count) { // little-endian, as RIFF has it
    for (int i = 0; i < count; ++i)
        bytes += static_cast<char>((value >> (8 * i)) & 0xFFU);
}

/// RFC 4648, section 4.
std::string base64(const std::string& bytes) {
    constexpr std::string_view digits =
        "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string text;
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        std::uint32_t group = 0;
        for (std::size_t k = 0; k < 3; ++k)
            group = (group << 8U) |
                    (i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0U);
        for (std::size_t k = 0; k < 4; ++k)
            text += i + k <= bytes.size() ? digits[(group >> (18U - 6U * k)) & 63U] : '=';
    }
    return text;
}

} // namespace

std::string sound_address(const taps::Tap& tap) {
    const double rate = tap.sample_rate_hz;
    if (tap.samples.empty() || !(rate > 0.0))
        return {};
    const auto before = static_cast<std::size_t>(k_before_s * rate);
    const std::size_t begin = tap.onset_index > before ? tap.onset_index - before : 0;
    if (begin >= tap.samples.size())
        return {};
    const std::size_t end =
        std::min(tap.samples.size(), begin + static_cast<std::size_t>(k_heard_s * rate));
    const auto every = static_cast<std::size_t>(std::max(1.0, std::ceil(rate / k_highest_rate_hz)));
    std::vector<double> heard = slower({tap.samples.begin() + static_cast<std::ptrdiff_t>(begin),
                                        tap.samples.begin() + static_cast<std::ptrdiff_t>(end)},
                                       every);
    const double heard_rate = rate / static_cast<double>(every);
    double loudest = 0.0;
    for (const double s : heard)
        loudest = std::isfinite(s) ? std::max(loudest, std::abs(s)) : loudest;
    if (loudest <= 0.0)
        return {};
    const auto fade = std::min(heard.size(), static_cast<std::size_t>(k_fade_s * heard_rate));
    for (std::size_t i = 0; i < fade; ++i)
        heard[heard.size() - 1 - i] *= static_cast<double>(i) / static_cast<double>(fade);
    const auto data_bytes = static_cast<std::uint32_t>(2 * heard.size());
    const auto whole_rate = static_cast<std::uint32_t>(std::lround(heard_rate));
    std::string wav = "RIFF";
    put(wav, 36 + data_bytes, 4);
    wav += "WAVEfmt ";
    put(wav, 16, 4);
    put(wav, 1, 2); // PCM
    put(wav, 1, 2); // one channel
    put(wav, whole_rate, 4);
    put(wav, 2 * whole_rate, 4);
    put(wav, 2, 2);
    put(wav, 16, 2);
    wav += "data";
    put(wav, data_bytes, 4);
    for (const double s : heard) {
        const double full =
            std::isfinite(s) ? std::clamp(32000.0 * s / loudest, -32767.0, 32767.0) : 0.0;
        put(wav, static_cast<std::uint16_t>(static_cast<std::int16_t>(std::lround(full))), 2);
    }
    return "data:audio/wav;base64," + base64(wav);
}

} // namespace platewright::report
