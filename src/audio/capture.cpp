#include "audio/capture.hpp"

#include "audio/ring.hpp"
#include "audio/sound_library.hpp"
#include "base/failure.hpp"
#include "wording/say.hpp"

#include <chrono>
#include <cmath>
#include <fmt/format.h>
#include <thread>

namespace platewright::audio {
namespace {

using base::Failure;
using wording::say;

std::string full_name(const PaDeviceInfo& info) {
    return fmt::format("{}: {}", Pa_GetHostApiInfo(info.hostApi)->name, info.name);
}

PaDeviceIndex find_device(const std::string& name) {
    if (name.empty()) {
        const PaDeviceIndex device = Pa_GetDefaultInputDevice();
        if (device == paNoDevice)
            throw Failure(say(
                "There is no microphone: plug one in, or start the sound server, and try again."));
        return device;
    }
    for (PaDeviceIndex i = 0; i < Pa_GetDeviceCount(); ++i)
        if (const PaDeviceInfo& info = *Pa_GetDeviceInfo(i);
            info.maxInputChannels > 0 && full_name(info) == name)
            return i;
    throw Failure(say("The input “{}” is not there: plug it in, or choose another.", name));
}

std::string offered_rates(PaStreamParameters parameters) {
    std::string rates;
    for (const int rate : {44100, 48000, 88200, 96000, 176400, 192000})
        if (Pa_IsFormatSupported(&parameters, nullptr, rate) == paFormatIsSupported)
            rates += (rates.empty() ? "" : ", ") + std::to_string(rate);
    return rates.empty() ? say("none of the usual") : rates;
}

} // namespace

struct Capture::Stream {
    SoundLibrary library;
    SampleRing ring;
    std::unique_ptr<SampleRing>
        force_ring; ///< filled by the same callback, so that both hold the same frames
    std::size_t channels = 1, channel = 0, force_channel = 0;
    double rate_hz = 0;
    std::string name;
    PaStream* stream = nullptr;
    std::vector<float> block, force, part;
    std::chrono::steady_clock::time_point heard = std::chrono::steady_clock::now();
    bool has_sounded = false;

    ~Stream() {
        if (stream != nullptr) {
            const QuietStandardError quiet;
            Pa_AbortStream(stream);
            Pa_CloseStream(stream);
        }
    }

    static int callback(const void* input, void*, unsigned long frames,
                        const PaStreamCallbackTimeInfo*, PaStreamCallbackFlags flags,
                        void* self) noexcept {
        auto& own = *static_cast<Stream*>(self);
        own.ring.write(static_cast<const float*>(input), frames, own.channels, own.channel,
                       (flags & paInputOverflow) != 0);
        if (own.force_ring)
            own.force_ring->write(static_cast<const float*>(input), frames, own.channels,
                                  own.force_channel, (flags & paInputOverflow) != 0);
        return paContinue;
    }
};

Capture::Capture(const InputChoice& choice) : stream_(std::make_unique<Stream>()) {
    Stream& s = *stream_;
    const PaDeviceIndex device = find_device(choice.name);
    const PaDeviceInfo& info = *Pa_GetDeviceInfo(device);
    s.name = full_name(info);
    for (const int wanted : {choice.channel, std::max(choice.force_channel, 0)})
        if (wanted < 0 || wanted >= info.maxInputChannels)
            throw Failure(
                say("The input “{}” has {} channel(s); there is no channel {}: choose another.",
                    s.name, info.maxInputChannels, wanted + 1));
    s.channel = static_cast<std::size_t>(choice.channel);
    s.channels = s.channel + 1;
    if (choice.force_channel >= 0) {
        s.force_channel = static_cast<std::size_t>(choice.force_channel);
        s.channels = std::max(s.channels, s.force_channel + 1);
        s.force_ring = std::make_unique<SampleRing>();
    }
    s.rate_hz = choice.sample_rate_hz > 0 ? choice.sample_rate_hz : info.defaultSampleRate;
    const PaStreamParameters parameters{device, static_cast<int>(s.channels), paFloat32,
                                        info.defaultHighInputLatency, nullptr};
    const QuietStandardError quiet;
    const PaError error = Pa_OpenStream(&s.stream, &parameters, nullptr, s.rate_hz, 0,
                                        paClipOff | paDitherOff, &Stream::callback, &s);
    if (error == paInvalidSampleRate)
        throw Failure(
            say("The input “{}” does not offer {} Hz; it offers {} Hz: choose one of these.",
                s.name, s.rate_hz, offered_rates(parameters)));
    if (error != paNoError || Pa_StartStream(s.stream) != paNoError)
        throw Failure(
            say("The input “{}” could not be opened: another program may hold it, or it was "
                "unplugged.",
                s.name),
            Pa_GetErrorText(error));
}

Capture::~Capture() = default;

double Capture::sample_rate_hz() const { return stream_->rate_hz; }
const std::string& Capture::device_name() const { return stream_->name; }
std::int64_t Capture::overruns() const { return stream_->ring.overruns(); }

/// As many frames of the force as of the sound; the callback writes them a moment later. Gives the
/// frames that only the force lost: the two are then brought together again, and a strike there is
/// refused for its gap.
std::int64_t Capture::take_force(Stream& s) {
    using namespace std::chrono_literals;
    s.force.clear();
    std::int64_t lost = 0;
    for (int look = 0; look < 200 && s.force.size() < s.block.size(); ++look) {
        lost += s.force_ring->read(s.part, s.block.size() - s.force.size());
        s.force.insert(s.force.end(), s.part.begin(), s.part.end());
        if (s.part.empty())
            std::this_thread::sleep_for(1ms);
    }
    s.force.resize(s.block.size());
    return lost;
}

Block Capture::read() {
    using namespace std::chrono_literals;
    Stream& s = *stream_;
    const auto most = static_cast<std::size_t>(0.1 * s.rate_hz);
    // The callback may not wake anybody, so the ring is looked into often enough to be prompt.
    for (int look = 0; look < 4; ++look) {
        const std::int64_t lost = s.ring.read(s.block, most);
        if (!s.block.empty() || lost > 0) {
            s.heard = std::chrono::steady_clock::now();
            s.has_sounded = true;
            const std::int64_t apart = s.force_ring ? take_force(s) : 0;
            return {.samples = s.block, .lost_frames = std::max(lost, apart), .force = s.force};
        }
        std::this_thread::sleep_for(5ms);
    }
    // A sound server that slept, or a wireless input, may take 2 s and more to bring its first
    // sound.
    const auto patience = s.has_sounded ? 1s : 5s;
    if (std::chrono::steady_clock::now() - s.heard > patience || Pa_IsStreamActive(s.stream) != 1)
        throw Failure(
            say("No sound comes from “{}” any more: plug it in again; listening goes on by "
                "itself.",
                s.name));
    return {.samples = {}};
}

std::vector<Device> list_inputs() {
    const SoundLibrary library;
    std::vector<Device> devices;
    for (PaDeviceIndex i = 0; i < Pa_GetDeviceCount(); ++i)
        if (const PaDeviceInfo& info = *Pa_GetDeviceInfo(i); info.maxInputChannels > 0)
            devices.push_back({full_name(info), info.maxInputChannels, info.defaultSampleRate,
                               i == Pa_GetDefaultInputDevice()});
    return devices;
}

} // namespace platewright::audio
