#pragma once
#include "base/failure.hpp"
#include "wording/say.hpp"

#include <portaudio.h>

#include <fcntl.h>
#include <string>
#include <unistd.h>

namespace platewright::audio {

/// Sound libraries write to standard error while they look for devices that are not there. None of
/// it helps the maker, and a script must find only our sentences there.
class QuietStandardError {
public:
    QuietStandardError() : kept_(dup(STDERR_FILENO)) {
        if (const int nowhere = open("/dev/null", O_WRONLY | O_CLOEXEC); nowhere >= 0) {
            dup2(nowhere, STDERR_FILENO);
            close(nowhere);
        }
    }
    ~QuietStandardError() {
        if (kept_ >= 0) {
            dup2(kept_, STDERR_FILENO);
            close(kept_);
        }
    }
    QuietStandardError(const QuietStandardError&) = delete;
    QuietStandardError& operator=(const QuietStandardError&) = delete;

private:
    int kept_;
};

/// PortAudio, started for as long as one lives; it counts its users itself. Not while another
/// thread starts or ends it: the engine's thread only.
class SoundLibrary {
public:
    SoundLibrary() {
        const QuietStandardError quiet;
        if (const PaError error = Pa_Initialize(); error != paNoError)
            throw base::Failure(wording::say("The sound system did not start; check that a sound "
                                             "server or sound card works."),
                                Pa_GetErrorText(error));
    }
    ~SoundLibrary() {
        const QuietStandardError quiet;
        Pa_Terminate();
    }
    SoundLibrary(const SoundLibrary&) = delete;
    SoundLibrary& operator=(const SoundLibrary&) = delete;
};

} // namespace platewright::audio
