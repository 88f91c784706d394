#include "audio/recording.hpp"

#include "audio/mended_file.hpp"
#include "base/failure.hpp"
#include "base/loudest.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <optional>
#include <sndfile.h>
#include <string_view>
#include <utility>
#include <vector>

namespace platewright::audio {

using base::Failure;
using base::Fault;

struct Recording::File {
    std::unique_ptr<MendedFile> bytes; ///< where the header is to be read otherwise than it stands
    SNDFILE* handle = nullptr;
    SF_INFO info{};
    std::filesystem::path path;
    StatedLength stated;
    std::string name;
    std::string damage; ///< stretches that could not be read, as far as it went on behind them
    std::size_t channel = 0;
    std::optional<std::size_t> force_channel;
    bool shorter_than_stated = false; ///< the header promises more than the file holds
    std::vector<float> interleaved, block, force;
    std::int64_t frames = 0;
    float loudest = 0;

    ~File() {
        if (handle != nullptr)
            sf_close(handle);
    }

    double seconds(std::int64_t at) const { return static_cast<double>(at) / info.samplerate; }

    [[noreturn]] void broken_off() const {
        throw Failure(
            fmt::format(
                "{} breaks off after {:.2f} s; what came before was read. Copy it again from "
                "where it was recorded.",
                name, seconds(frames)),
            sf_strerror(handle));
    }
    [[noreturn]] void damaged() const {
        throw Failure(fmt::format(
            "{} is damaged {}; the rest was read. Copy it again from where it was recorded.", name,
            damage));
    }

    [[noreturn]] void lost_within() const {
        throw Failure(
            fmt::format("{} is damaged: {:.2f} s are lost within it, it can't be told where, and "
                        "what stands behind "
                        "was read that much too early. Copy it again from where it was recorded.",
                        name, seconds(info.frames - frames)));
    }

    [[noreturn]] void not_a_number() const {
        const auto first =
            std::find_if_not(block.begin(), block.end(), [](float x) { return std::isfinite(x); });
        throw Failure(fmt::format(
            "{} holds samples that are not numbers, the first at {:.3f} s; what came before was "
            "read. Export it again.",
            name, seconds(frames + (first - block.begin()))));
    }

    void open() {
        if (bytes)
            handle = sf_open_virtual(&MendedFile::calls(), SFM_READ, &info, bytes.get());
        else
            handle = sf_open(path.c_str(), SFM_READ, &info);
    }

    /// A decoder that met damage is of no use any more: each try has a new one.
    bool sought(std::int64_t frame) {
        sf_close(handle);
        const SF_INFO known = std::exchange(info, {});
        open();
        info = known;
        return handle != nullptr && sf_seek(handle, frame, SEEK_SET) == frame;
    }

    /// Whether samples can be read from a frame on; the next read is from there.
    bool goes_on_at(std::int64_t frame) {
        std::vector<float> one(static_cast<std::size_t>(info.channels));
        return sought(frame) && sf_readf_float(handle, one.data(), 1) == 1 &&
               sf_seek(handle, frame, SEEK_SET) == frame;
    }

    /// Whether the last block stands in the file where it was counted: a decoder may leave out a
    /// damaged stretch without a word.
    bool in_place() {
        const auto count = static_cast<std::int64_t>(block.size());
        std::vector<float> there(block.size() * static_cast<std::size_t>(info.channels));
        if (!sought(frames - count) || sf_readf_float(handle, there.data(), count) != count)
            return false;
        for (std::size_t i = 0; i < block.size(); ++i)
            if (there[i * static_cast<std::size_t>(info.channels) + channel] != block[i])
                return false;
        return true;
    }

    /// Looks for the next readable place behind a damaged stretch; how many frames are lost, 0
    /// where nothing follows.
    std::int64_t pass_over_damage() {
        std::int64_t step = info.samplerate / 10;
        const std::int64_t last = info.frames - step;
        if (frames + step >= last || !goes_on_at(last))
            return 0; // cut short
        std::int64_t at = frames + step;
        for (int tries = 1; at < last && !goes_on_at(at); ++tries) {
            step *= tries % 20 == 0 ? 2 : 1; // a long stretch is not probed for long
            at += step;
        }
        at = std::min(at, last);
        if (!goes_on_at(at))
            return 0;
        damage += fmt::format("{}from {:.2f} s to {:.2f} s", damage.empty() ? "" : ", ",
                              seconds(frames), seconds(at));
        return at - frames;
    }
};

namespace {

/// libsndfile mends the length of a file cut short and says so only in its log.
bool header_promises_more(SNDFILE* handle) {
    std::array<char, 8192> log{};
    sf_command(handle, SFC_GET_LOG_INFO, log.data(), static_cast<int>(log.size()) - 1);
    return std::string_view{log.data()}.find("(should be ") != std::string_view::npos;
}

} // namespace

base::Result<std::unique_ptr<Recording>> Recording::open(const std::filesystem::path& path,
                                                         int channel, int force_channel) {
    std::error_code error;
    const auto status = std::filesystem::status(path, error);
    const std::string name = "“" + path.string() + "”";
    if (!std::filesystem::exists(status))
        return Fault{name + " is not there: check the name and the folder."};
    if (std::filesystem::is_directory(status))
        return Fault{name + " is a folder: name the recordings in it."};
    if (std::filesystem::file_size(path, error) == 0 && !error)
        return Fault{name + " is empty: record or copy it again."};
    auto file = std::make_unique<File>();
    file->path = path;
    file->name = name;
    file->stated = stated_length(path);
    if (file->stated.size_at > 0)
        file->bytes = std::make_unique<MendedFile>(path, file->stated);
    file->open();
    if (file->handle == nullptr)
        return Fault{
            name + " can't be read as a recording: WAV, AIFF, FLAC and Ogg are; check that it is "
                   "one, is whole, and may be read.",
            sf_strerror(nullptr)};
    if (file->info.samplerate < 8000 || file->info.samplerate > 400000)
        return Fault{fmt::format("{} has {} samples a second; 8000 to 400000 are needed: convert "
                                 "it, or record at 48000.",
                                 name, file->info.samplerate)};
    for (const int wanted : {channel, std::max(force_channel, 0)})
        if (wanted < 0 || wanted >= file->info.channels)
            return Fault{fmt::format("{} has {} channel(s); there is no channel {}.", name,
                                     file->info.channels, wanted + 1)};
    if (file->info.frames == 0)
        return Fault{name + " holds no samples: record or copy it again."};
    file->channel = static_cast<std::size_t>(channel);
    if (force_channel >= 0)
        file->force_channel = static_cast<std::size_t>(force_channel);
    file->shorter_than_stated = !file->stated.is_open && header_promises_more(file->handle);
    return std::unique_ptr<Recording>(new Recording(std::move(file)));
}

Recording::Recording(std::unique_ptr<File> file) : file_(std::move(file)) {}
Recording::~Recording() = default;

double Recording::sample_rate_hz() const { return file_->info.samplerate; }
double Recording::duration_s() const {
    return file_->stated.is_open ? 0.0 : file_->seconds(file_->info.frames);
}
std::int64_t Recording::frames_read() const { return file_->frames; }
float Recording::loudest() const { return file_->loudest; }

Block Recording::read() {
    File& f = *file_;
    const auto channels = static_cast<std::size_t>(f.info.channels);
    const auto most = static_cast<std::size_t>(f.info.samplerate) / 20;
    f.interleaved.resize(most * channels);
    const sf_count_t got =
        sf_readf_float(f.handle, f.interleaved.data(), static_cast<sf_count_t>(most));
    if (got <= 0) {
        const bool lacks_some = !f.stated.is_open && f.frames < f.info.frames;
        const bool whole_length = !f.shorter_than_stated && lacks_some;
        if (whole_length && f.frames > 0 && !f.in_place())
            f.lost_within();
        if (const std::int64_t lost = whole_length ? f.pass_over_damage() : 0; lost > 0) {
            f.frames += lost;
            return {.samples = {}, .lost_frames = lost};
        }
        if (sf_error(f.handle) != SF_ERR_NO_ERROR || f.shorter_than_stated || lacks_some)
            f.broken_off();
        if (!f.damage.empty())
            f.damaged();
        return {.samples = {}, .ended = true};
    }
    f.block.resize(static_cast<std::size_t>(got));
    for (std::size_t i = 0; i < f.block.size(); ++i)
        f.block[i] = f.interleaved[i * channels + f.channel];
    f.force.clear();
    if (f.force_channel)
        for (std::size_t i = 0; i < f.block.size(); ++i)
            f.force.push_back(f.interleaved[i * channels + *f.force_channel]);
    const float loudest = base::loudest(f.block);
    if (!std::isfinite(loudest) || !std::isfinite(base::loudest(f.force)))
        f.not_a_number();
    f.loudest = std::max(f.loudest, loudest);
    f.frames += got;
    return {.samples = f.block, .force = f.force};
}

} // namespace platewright::audio
