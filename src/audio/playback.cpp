#include "audio/playback.hpp"

#include "audio/sound_library.hpp"

#include <algorithm>

namespace platewright::audio {

struct Playback::Stream {
    SoundLibrary library;
    std::vector<float> samples;
    std::size_t next = 0; // the callback's own
    PaStream* stream = nullptr;

    ~Stream() {
        if (stream != nullptr) {
            const QuietStandardError quiet;
            Pa_AbortStream(stream);
            Pa_CloseStream(stream);
        }
    }

    /// After paComplete the stream stays active until all that was given has sounded.
    static int callback(const void*, void* output, unsigned long frames,
                        const PaStreamCallbackTimeInfo*, PaStreamCallbackFlags,
                        void* self) noexcept {
        auto& own = *static_cast<Stream*>(self);
        auto* out = static_cast<float*>(output);
        const std::size_t count = std::min<std::size_t>(frames, own.samples.size() - own.next);
        std::copy_n(own.samples.data() + own.next, count, out);
        std::fill(out + count, out + frames, 0.0F);
        own.next += count;
        return own.next == own.samples.size() ? paComplete : paContinue;
    }
};

Playback::Playback(std::vector<float> samples, double sample_rate_hz)
    : stream_(std::make_unique<Stream>()) {
    Stream& s = *stream_;
    s.samples = std::move(samples);
    const QuietStandardError quiet;
    const PaError error = Pa_OpenDefaultStream(&s.stream, 0, 1, paFloat32, sample_rate_hz,
                                               paFramesPerBufferUnspecified, &Stream::callback, &s);
    if (error != paNoError || Pa_StartStream(s.stream) != paNoError)
        throw base::Failure(
            wording::say("Nothing can be played: there is no loudspeaker, or it does not "
                         "take this sample rate. The tap itself is safe."),
            Pa_GetErrorText(error));
}

Playback::~Playback() = default;

bool Playback::is_over() const { return Pa_IsStreamActive(stream_->stream) != 1; }

} // namespace platewright::audio
