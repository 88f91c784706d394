#include "bars.hpp"

#include <cmath>
#include <complex>
#include <cstdint>
#include <fstream>
#include <iterator>
#include <numbers>
#include <sndfile.h>
#include <stdexcept>

namespace outside {
namespace {

constexpr std::size_t k_file_header = 129, k_instrument_header = 63, k_layer_header = 47,
                      k_sample_header = 96;

std::uint32_t little_endian(const std::string& bytes, std::size_t at, std::size_t length) {
    std::uint32_t value = 0;
    for (std::size_t k = length; k-- > 0;) {
        value = value << 8 | static_cast<unsigned char>(bytes.at(at + k));
    }
    return value;
}

std::vector<float> samples_of(const std::string& bytes, std::size_t at, std::size_t length,
                              bool is_unsigned) {
    std::vector<float> samples;
    for (std::size_t k = 0; k + 1 < length; k += 2) {
        auto word = static_cast<std::uint16_t>(little_endian(bytes, at + k, 2));
        word = is_unsigned ? static_cast<std::uint16_t>(word ^ 0x8000U) : word;
        samples.push_back(static_cast<float>(static_cast<std::int16_t>(word)) / 32768.0F);
    }
    return samples;
}

double magnitude(const Bar& bar, double hz) {
    const auto step = std::polar(1.0, -2.0 * std::numbers::pi * hz / bar.sample_rate_hz);
    std::complex<double> turn = 1.0;
    std::complex<double> sum = 0.0;
    for (const float x : bar.samples) {
        sum += static_cast<double>(x) * turn;
        turn *= step;
    }
    return std::abs(sum);
}

} // namespace

std::vector<Bar> read_patch(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(in), {}};
    if (bytes.compare(0, 11, "GF1PATCH110") != 0) {
        throw std::runtime_error(file.string() + " is no GF1 patch");
    }
    std::size_t at = k_file_header + k_instrument_header;
    const auto count = little_endian(bytes, at + 6, 1);
    at += k_layer_header;
    std::vector<Bar> bars;
    for (std::uint32_t k = 0; k < count; ++k) {
        const auto size = little_endian(bytes, at + 8, 4);
        const auto modes = little_endian(bytes, at + 55, 1);
        if ((modes & 1U) == 0) {
            throw std::runtime_error(file.string() + " holds 8-bit samples");
        }
        Bar bar;
        bar.name = bytes.substr(at, 7);
        bar.sample_rate_hz = little_endian(bytes, at + 20, 2);
        bar.label_hz = little_endian(bytes, at + 30, 4) / 1000.0;
        at += k_sample_header;
        bar.samples = samples_of(bytes, at, size, (modes & 2U) != 0);
        at += size;
        bars.push_back(std::move(bar));
    }
    if (at != bytes.size()) {
        throw std::runtime_error(file.string() + " is not laid out as a GF1 patch should be");
    }
    return bars;
}

Bar read_bar(const std::filesystem::path& file, double label_hz) {
    SF_INFO info{};
    SNDFILE* in = sf_open(file.string().c_str(), SFM_READ, &info);
    if (in == nullptr) {
        throw std::runtime_error("cannot read " + file.string());
    }
    const auto channels = static_cast<std::size_t>(info.channels);
    std::vector<float> all(static_cast<std::size_t>(info.frames) * channels);
    const auto got = static_cast<std::size_t>(sf_readf_float(in, all.data(), info.frames));
    sf_close(in);
    Bar bar{file.stem().string(), static_cast<double>(info.samplerate), label_hz, {}};
    for (std::size_t n = 0; n < got; ++n) {
        bar.samples.push_back(all[n * channels]);
    }
    return bar;
}

double transform_peak_hz(const Bar& bar, double about_hz, double cents) {
    // A peak is 1/T wide; an eighth of that can't miss it, and a parabola through three points of
    // it is then good to a hundredth.
    const double step_hz = bar.sample_rate_hz / static_cast<double>(bar.samples.size()) / 8.0;
    const double low_hz = about_hz * std::exp2(-cents / 1200.0);
    const double high_hz = about_hz * std::exp2(cents / 1200.0);
    std::vector<double> height;
    for (double hz = low_hz; hz <= high_hz; hz += step_hz) {
        height.push_back(magnitude(bar, hz));
    }
    std::size_t top = 1;
    for (std::size_t k = 1; k + 1 < height.size(); ++k) {
        top = height[k] > height[top] ? k : top;
    }
    const double before = height[top - 1];
    const double after = height[top + 1];
    const double shift = 0.5 * (before - after) / (before - 2.0 * height[top] + after);
    return low_hz + step_hz * (static_cast<double>(top) + shift);
}

} // namespace outside
