#include "ledger/files/recording_file.hpp"

#include "base/failure.hpp"
#include "base/loudest.hpp"
#include "base/text.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdio>
#include <cstring>
#include <fmt/format.h>
#include <limits>
#include <memory>
#include <sndfile.h>
#include <stdexcept>
#include <string_view>

namespace platewright::ledger {

std::filesystem::path recording_file(const std::filesystem::path& ledger, const std::string& hash) {
    return ledger / "recordings" / hash.substr(0, 2) / (hash + ".flac");
}

namespace {

constexpr int k_steps_at_full_scale = 1 << 23; // 24 bit, signed
constexpr int k_pad_bits = 8;                  // libsndfile wants 24 bits at the top of an int
constexpr std::string_view k_scale_label = "; full scale 2^";
constexpr std::string_view k_force_label = "; newton at full scale ";
constexpr int k_highest_rate_hz = 655350;

// A file that lives in memory, in the shape libsndfile asks for.
struct MemoryFile {
    std::vector<std::byte> bytes;
    std::size_t position = 0;
};

MemoryFile& memory(void* user) { return *static_cast<MemoryFile*>(user); }

sf_count_t length_of(void* user) { return static_cast<sf_count_t>(memory(user).bytes.size()); }

sf_count_t seek(sf_count_t offset, int whence, void* user) {
    MemoryFile& file = memory(user);
    sf_count_t start = 0;
    if (whence == SEEK_CUR) {
        start = static_cast<sf_count_t>(file.position);
    } else if (whence == SEEK_END) {
        start = static_cast<sf_count_t>(file.bytes.size());
    }
    file.position = static_cast<std::size_t>(std::max<sf_count_t>(0, start + offset));
    return static_cast<sf_count_t>(file.position);
}

sf_count_t read(void* target, sf_count_t count, void* user) {
    MemoryFile& file = memory(user);
    const std::size_t left = file.bytes.size() - std::min(file.position, file.bytes.size());
    const std::size_t taken = std::min(left, static_cast<std::size_t>(count));
    if (taken > 0)
        std::memcpy(target, file.bytes.data() + file.position, taken);
    file.position += taken;
    return static_cast<sf_count_t>(taken);
}

sf_count_t write(const void* source, sf_count_t count, void* user) {
    MemoryFile& file = memory(user);
    const auto size = static_cast<std::size_t>(count);
    file.bytes.resize(std::max(file.bytes.size(), file.position + size));
    std::memcpy(file.bytes.data() + file.position, source, size);
    file.position += size;
    return count;
}

sf_count_t tell(void* user) { return static_cast<sf_count_t>(memory(user).position); }

struct CloseSound {
    void operator()(SNDFILE* file) const { sf_close(file); }
};
using SoundFile = std::unique_ptr<SNDFILE, CloseSound>;

SoundFile open(MemoryFile& file, int mode, SF_INFO& info) {
    SF_VIRTUAL_IO io{length_of, seek, read, write, tell};
    return SoundFile{sf_open_virtual(&io, mode, &info, &file)};
}

// The power of two that brings the loudest sample within full scale: 0 for all ordinary sound.
int scale_exponent(std::span<const float> samples) {
    const auto loudest = static_cast<double>(base::loudest(samples));
    if (!std::isfinite(loudest))
        throw std::invalid_argument{"a recording's samples must be finite"};
    int exponent = 0;
    while (std::ldexp(1.0, exponent) < loudest)
        ++exponent;
    return exponent;
}

std::vector<int> to_24_bit(std::span<const float> samples, int exponent) {
    std::vector<int> steps(samples.size());
    const double factor = std::ldexp(static_cast<double>(k_steps_at_full_scale), -exponent);
    std::ranges::transform(samples, steps.begin(), [factor](float sample) {
        const double rounded = std::nearbyint(static_cast<double>(sample) * factor);
        const double kept =
            std::clamp<double>(rounded, -k_steps_at_full_scale, k_steps_at_full_scale - 1);
        return static_cast<int>(kept) * (1 << k_pad_bits);
    });
    return steps;
}

std::string comment_of(SNDFILE* file) {
    const char* comment = sf_get_string(file, SF_STR_COMMENT);
    return comment != nullptr ? comment : "";
}

// Takes the scale that encode_recording() wrote off the end of a comment; 0 where there is none.
int take_exponent(std::string& comment) {
    const std::size_t at = comment.rfind(k_scale_label);
    if (at == std::string::npos)
        return 0;
    int exponent = 0;
    const char* digits = comment.data() + at + k_scale_label.size();
    const char* end = comment.data() + comment.size();
    if (const auto [read, error] = std::from_chars(digits, end, exponent);
        error != std::errc{} || read != end)
        return 0; // within a text of the maker's
    comment.resize(at);
    return std::clamp(exponent, 0, std::numeric_limits<float>::max_exponent);
}

// The same of the hammer's newtons; 0 where they are not known.
double take_newton(std::string& comment) {
    const std::size_t at = comment.rfind(k_force_label);
    if (at == std::string::npos)
        return 0;
    const auto newton = base::parse_number(comment.substr(at + k_force_label.size()));
    comment.resize(at);
    return newton && *newton > 0 ? *newton : 0;
}

// Sound and force by turns, as a file with two channels has them; the sound alone without force.
std::vector<int> interleaved(std::vector<int> sound, std::span<const float> force) {
    if (force.empty())
        return sound;
    const std::vector<int> pushes = to_24_bit(force, 0);
    std::vector<int> both;
    both.reserve(2 * sound.size());
    for (std::size_t i = 0; i < sound.size(); ++i) {
        both.push_back(sound[i]);
        both.push_back(pushes[i]);
    }
    return both;
}

} // namespace

std::vector<std::byte> encode_recording(std::span<const float> samples, int sample_rate_hz,
                                        const std::string& description, const HammerForce& force) {
    if (samples.empty() || sample_rate_hz < 1 || sample_rate_hz > k_highest_rate_hz)
        throw std::invalid_argument{"a recording needs samples, and a rate FLAC can name"};
    if (!force.samples.empty() && force.samples.size() != samples.size())
        throw std::invalid_argument{"the force of a recording is of its own frames"};
    const int exponent = scale_exponent(samples);
    if (!std::isfinite(base::loudest(force.samples)))
        throw std::invalid_argument{"a recording's force must be finite"};
    const std::vector<int> steps = interleaved(to_24_bit(samples, exponent), force.samples);

    MemoryFile file;
    SF_INFO info{};
    info.samplerate = sample_rate_hz;
    info.channels = force.samples.empty() ? 1 : 2;
    info.format = SF_FORMAT_FLAC | SF_FORMAT_PCM_24;
    SoundFile sound = open(file, SFM_WRITE, info);
    if (!sound) {
        throw base::Failure{"A tap could not be turned into a recording, so it was not kept.",
                            sf_strerror(nullptr)};
    }
    std::string comment = description;
    if (!force.samples.empty() && force.newton > 0)
        comment += std::string{k_force_label} + fmt::format("{}", force.newton);
    if (exponent > 0)
        comment += std::string{k_scale_label} + std::to_string(exponent);
    if (!comment.empty())
        sf_set_string(sound.get(), SF_STR_COMMENT, comment.c_str());
    const auto count = static_cast<sf_count_t>(samples.size());
    if (sf_writef_int(sound.get(), steps.data(), count) != count) {
        throw base::Failure{"A tap could not be turned into a recording, so it was not kept.",
                            sf_strerror(sound.get())};
    }
    sound.reset(); // closing writes the last block and the header's totals
    return std::move(file.bytes);
}

Sound decode_recording(std::span<const std::byte> bytes) {
    MemoryFile file{{bytes.begin(), bytes.end()}, 0};
    SF_INFO info{};
    const SoundFile sound = open(file, SFM_READ, info);
    if (!sound || info.channels < 1 || info.channels > 2 || info.frames < 1 ||
        info.frames > k_longest_frames) {
        throw base::Failure{"A kept recording is damaged and could not be read.",
                            sf_strerror(sound.get())};
    }
    const auto channels = static_cast<std::size_t>(info.channels);
    const auto frames = static_cast<std::size_t>(info.frames);
    std::vector<int> steps(channels * frames);
    if (sf_readf_int(sound.get(), steps.data(), info.frames) != info.frames) {
        throw base::Failure{"A kept recording is cut short and could not be read.",
                            sf_strerror(sound.get())};
    }
    Sound result{std::vector<float>(frames), info.samplerate, comment_of(sound.get())};
    const double unit = std::ldexp(1.0 / k_steps_at_full_scale, -k_pad_bits);
    const double factor = std::ldexp(unit, take_exponent(result.description));
    for (std::size_t i = 0; i < frames; ++i)
        result.samples[i] = static_cast<float>(static_cast<double>(steps[channels * i]) * factor);
    if (channels == 2) {
        result.force.newton = take_newton(result.description);
        for (std::size_t i = 0; i < frames; ++i)
            result.force.samples.push_back(
                static_cast<float>(static_cast<double>(steps[2 * i + 1]) * unit));
    }
    return result;
}

} // namespace platewright::ledger
