#include "audio/force_memory.hpp"
#include "audio/recording.hpp"
#include "base/failure.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"
#include "support/temporary_folder.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <limits>
#include <sndfile.h>
#include <string>
#include <string_view>
#include <vector>

using platewright::audio::Block;
using platewright::audio::Recording;
namespace fs = std::filesystem;

namespace {

void write(const fs::path& path, int format, int rate, int channels,
           const std::vector<float>& frames) {
    SF_INFO info{};
    info.samplerate = rate;
    info.channels = channels;
    info.format = format;
    SNDFILE* file = sf_open(path.c_str(), SFM_WRITE, &info);
    REQUIRE(file != nullptr);
    sf_writef_float(file, frames.data(), static_cast<sf_count_t>(frames.size()) / channels);
    sf_close(file);
}

std::vector<float> all_of(Recording& recording) {
    std::vector<float> samples;
    for (Block block = recording.read(); !block.ended; block = recording.read())
        samples.insert(samples.end(), block.samples.begin(), block.samples.end());
    return samples;
}

std::vector<float> tone(std::size_t frames, int channels) {
    std::vector<float> out(frames * static_cast<std::size_t>(channels));
    for (std::size_t i = 0; i < out.size(); ++i)
        out[i] = 0.5F * std::sin(0.01F * static_cast<float>(i));
    return out;
}

} // namespace

TEST_CASE("every sample format, rate and channel count reads alike") {
    const platewright::test::TemporaryFolder folder;
    struct Kind {
        const char* name;
        int format;
        float error;
    };
    const auto kind = GENERATE(Kind{"u8.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_U8, 0.008F},
                               Kind{"16.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_16, 4e-5F},
                               Kind{"24.aiff", SF_FORMAT_AIFF | SF_FORMAT_PCM_24, 3e-7F},
                               Kind{"32.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_32, 1e-7F},
                               Kind{"float.wav", SF_FORMAT_WAV | SF_FORMAT_FLOAT, 0.0F},
                               Kind{"double.wav", SF_FORMAT_WAV | SF_FORMAT_DOUBLE, 0.0F},
                               Kind{"24.flac", SF_FORMAT_FLAC | SF_FORMAT_PCM_24, 3e-7F});
    const int channels = GENERATE(1, 2, 7);
    const int rate = GENERATE(8000, 44100, 384000);
    const auto frames = tone(5000, channels);
    const fs::path path = folder.path() / kind.name;
    write(path, kind.format, rate, channels, frames);
    auto recording = Recording::open(path, channels - 1);
    REQUIRE(recording);
    CHECK((*recording)->sample_rate_hz() == rate);
    const auto samples = all_of(**recording);
    REQUIRE(samples.size() == 5000);
    for (std::size_t i = 0; i < samples.size(); ++i)
        if (std::abs(samples[i] - frames[(i + 1) * static_cast<std::size_t>(channels) - 1]) >
            kind.error)
            FAIL("sample " << i << " of " << kind.name);
}

TEST_CASE("32 channels are read") {
    const platewright::test::TemporaryFolder folder;
    write(folder.path() / "32.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_16, 48000, 32, tone(1000, 32));
    auto recording = Recording::open(folder.path() / "32.wav", 31);
    REQUIRE(recording);
    CHECK(all_of(**recording).size() == 1000);
}

TEST_CASE("what is no recording is refused in one sentence") {
    const platewright::test::TemporaryFolder folder;
    const auto fault = [&](const char* name, int channel = 0) {
        auto recording = Recording::open(folder.path() / name, channel);
        REQUIRE_FALSE(recording);
        return recording.fault().what;
    };
    CHECK(fault("missing.wav").find("is not there") != std::string::npos);
    std::ofstream(folder.path() / "empty.wav");
    CHECK(fault("empty.wav").find("is empty") != std::string::npos);
    std::ofstream(folder.path() / "words.wav")
        << "these are words, not sound, and there are enough of them";
    CHECK(fault("words.wav").find("can't be read as a recording") != std::string::npos);
    fs::create_directory(folder.path() / "folder");
    CHECK(fault("folder").find("is a folder") != std::string::npos);
    write(folder.path() / "slow.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_16, 4000, 1, tone(100, 1));
    CHECK(fault("slow.wav").find("4000 samples a second") != std::string::npos);
    write(folder.path() / "one.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_16, 48000, 1, tone(100, 1));
    CHECK(fault("one.wav", 1).find("no channel 2") != std::string::npos);
}

TEST_CASE("a recording cut short gives what it has, then says that it breaks off") {
    const platewright::test::TemporaryFolder folder;
    const auto [name, format] = GENERATE(std::pair{"cut.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_16},
                                         std::pair{"cut.aiff", SF_FORMAT_AIFF | SF_FORMAT_PCM_16},
                                         std::pair{"cut.flac", SF_FORMAT_FLAC | SF_FORMAT_PCM_16});
    const fs::path path = folder.path() / name;
    write(path, format, 48000, 1, tone(96000, 1));
    fs::resize_file(path, fs::file_size(path) / 2);
    auto recording = Recording::open(path);
    REQUIRE(recording);
    std::size_t frames = 0;
    std::string said;
    try {
        for (Block block = (*recording)->read(); !block.ended; block = (*recording)->read())
            frames += block.samples.size();
    } catch (const platewright::base::Failure& failure) {
        said = failure.what();
    }
    CAPTURE(name, frames, said);
    CHECK(frames > 30000);
    CHECK(frames < 96000);
    CHECK(said.find("breaks off after") != std::string::npos);
}

TEST_CASE(
    "a damaged stretch of a FLAC file is passed over as lost, and said at the end with its place") {
    const platewright::test::TemporaryFolder folder;
    const auto path = folder.path() / "scratched.flac";
    synth::Normal normal(3); // noise does not compress: a byte of the file is near its time
    std::vector<float> sound(10 * 48000);
    for (float& x : sound)
        x = static_cast<float>(0.1 * normal());
    write(path, SF_FORMAT_FLAC | SF_FORMAT_PCM_16, 48000, 1, sound);
    {
        const auto size = static_cast<std::streamoff>(std::filesystem::file_size(path));
        std::fstream file(path, std::ios::in | std::ios::out | std::ios::binary);
        file.seekp(size / 2);
        file << std::string(2000, 'U');
    }
    auto recording = Recording::open(path);
    REQUIRE(recording);
    std::int64_t given = 0, lost = 0;
    std::string said;
    try {
        for (bool ended = false; !ended;) {
            const auto block = (*recording)->read();
            lost += block.lost_frames;
            for (std::size_t i = 0; i < block.samples.size(); ++i) // each at its own place
                if (std::abs(block.samples[i] - sound[static_cast<std::size_t>(given + lost) + i]) >
                    1e-4F)
                    FAIL("another sample at " << given + lost);
            given += static_cast<std::int64_t>(block.samples.size());
            ended = block.ended;
        }
    } catch (const platewright::base::Failure& failure) {
        said = failure.what();
    }
    CHECK(given + lost == 10 * 48000);
    CHECK(lost > 0);
    CHECK(lost < 24000);
    CHECK((*recording)->frames_read() == 10 * 48000);
    CHECK(said.find("is damaged from 4.") != std::string::npos);
    CHECK(said.find("the rest was read") != std::string::npos);
}

TEST_CASE(
    "a frame that the decoder leaves out without a word is said, and no sound is given twice") {
    const platewright::test::TemporaryFolder folder;
    const auto path = folder.path() / "gap.flac";
    synth::Normal normal(4);
    std::vector<float> sound(3 * 8000);
    for (float& x : sound)
        x = static_cast<float>(0.1 * normal());
    write(path, SF_FORMAT_FLAC | SF_FORMAT_PCM_16, 8000, 1, sound);
    // Frames begin with the sync code of RFC 9639, section 9.1; the third one goes.
    std::ifstream in(path, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(in), {}};
    in.close();
    std::vector<std::size_t> frames;
    for (std::size_t i = 0; (i = bytes.find("\xFF\xF8", i)) != std::string::npos; ++i)
        if (bytes.size() - i > 6 && (frames.empty() || i - frames.back() > 1000))
            frames.push_back(i);
    REQUIRE(frames.size() >= 5);
    std::ofstream(path, std::ios::binary) << bytes.substr(0, frames[2]) << bytes.substr(frames[3]);
    auto recording = Recording::open(path);
    REQUIRE(recording);
    std::vector<float> given;
    std::string said;
    try {
        for (Block block = (*recording)->read(); !block.ended; block = (*recording)->read())
            given.insert(given.end(), block.samples.begin(), block.samples.end());
    } catch (const platewright::base::Failure& failure) {
        said = failure.what();
    }
    CAPTURE(said, given.size());
    CHECK(said.find("damaged") != std::string::npos);
    CHECK(given.size() <= sound.size());
    const std::vector<float> end(given.end() - 2000, given.end()); // the last sounds come once
    CHECK(std::search(given.begin(), given.end(), end.begin(), end.end()) == given.end() - 2000);
}

TEST_CASE("samples that are not numbers are refused with their place") {
    const platewright::test::TemporaryFolder folder;
    for (const float bad :
         {std::numeric_limits<float>::quiet_NaN(), std::numeric_limits<float>::infinity()}) {
        auto frames = tone(48000, 1);
        frames[24000] = bad;
        write(folder.path() / "bad.wav", SF_FORMAT_WAV | SF_FORMAT_FLOAT, 48000, 1, frames);
        auto recording = Recording::open(folder.path() / "bad.wav");
        REQUIRE(recording);
        CHECK_THROWS_WITH(all_of(**recording), ContainsSubstring("0.500 s"));
    }
}

TEST_CASE(
    "a recording that states no length is read to its end, and nothing is said to be broken off") {
    const platewright::test::TemporaryFolder folder;
    const fs::path path = folder.path() / "stream";
    const auto frames = tone(50'000, 1);
    const auto patch = [&](std::string_view at, std::size_t behind, const std::string& bytes) {
        std::fstream file(path, std::ios::in | std::ios::out | std::ios::binary);
        const std::string whole{std::istreambuf_iterator<char>(file), {}};
        file.clear();
        file.seekp(static_cast<std::streamoff>(whole.find(at) + behind));
        file << bytes;
    };
    SECTION("a WAV of a recorder whose battery died") {
        write(path, SF_FORMAT_WAV | SF_FORMAT_PCM_24, 48000, 1, frames);
        patch("data", 4, std::string(4, '\0'));
        patch("RIFF", 4, std::string(4, '\0'));
    }
    SECTION("a WAV through a pipe, all ones") {
        write(path, SF_FORMAT_WAV | SF_FORMAT_PCM_24, 48000, 1, frames);
        patch("data", 4, std::string(4, '\xff'));
    }
    SECTION("a WAV through a pipe, the greatest signed number less a block") {
        write(path, SF_FORMAT_WAV | SF_FORMAT_PCM_24, 48000, 1, frames);
        patch("data", 4, std::string("\x00\xf0\xff\x7f", 4));
    }
    SECTION("a FLAC through a pipe") {
        write(path, SF_FORMAT_FLAC | SF_FORMAT_PCM_24, 48000, 1, frames);
        patch("fLaC", 22, std::string(4, '\0')); // of 36 bits the lower 32; the upper are none here
    }
    auto recording = Recording::open(path);
    REQUIRE(recording);
    const auto samples = all_of(**recording);
    REQUIRE(samples.size() == frames.size());
    CHECK((*recording)->duration_s() == 0.0);
    CHECK(std::abs(samples.back() - frames.back()) < 1e-5F);
}

TEST_CASE("a WAV without sound is still refused as empty") {
    const platewright::test::TemporaryFolder folder;
    write(folder.path() / "none.wav", SF_FORMAT_WAV | SF_FORMAT_PCM_16, 48000, 1, {});
    CHECK_FALSE(Recording::open(folder.path() / "none.wav"));
}

TEST_CASE("a hammer's force is remembered as its tap asks for it, and is nothing before the source "
          "began") {
    const platewright::test::TemporaryFolder folder;
    const fs::path path = folder.path() / "force.wav";
    std::vector<float> frames;
    for (int i = 0; i < 8000; ++i) {
        frames.push_back(0.0F);
        frames.push_back(static_cast<float>(i) / 16384.0F); // exact in 16 bits
    }
    write(path, SF_FORMAT_WAV | SF_FORMAT_PCM_16, 8000, 2, frames);
    auto opened = Recording::open(path, 0, 1);
    REQUIRE(opened);
    platewright::audio::ForceMemory memory(std::move(*opened));
    while (!memory.read().ended)
        continue;
    const std::vector<float> inside = memory.force(100, 3);
    REQUIRE(inside.size() == 3);
    CHECK(inside[0] == frames[201]);
    // A recording that begins at its strike has a quiet put before it.
    const std::vector<float> before = memory.force(-4, 7);
    REQUIRE(before.size() == 7);
    CHECK(std::all_of(before.begin(), before.begin() + 5, [](float x) { return x == 0.0F; }));
    CHECK(before[5] == frames[3]);
    CHECK(before[6] == frames[5]);
    CHECK(memory.force(-9, 5).empty());
    CHECK(memory.force(7999, 2).empty());
}
