#pragma once
#include <filesystem>
#include <string>
#include <vector>

/// Recordings of real struck bars, from sources outside this project, and an independent look at
/// their fundamentals.
namespace outside {

struct Bar {
    std::string name;
    double sample_rate_hz = 0;
    double label_hz = 0;        ///< what the recording's makers say it sounds
    std::vector<float> samples; ///< full scale ±1; the strike stands at or near the start
};

/// Bars of a Gravis patch file (GF1 1.10), as Debian's freepats holds them: a header of 129 bytes,
/// instrument header of 63, layer header of 47, then a header of 96 bytes before each sample.
/// Written from memory of the format; the test checks that the file is used up to its last byte.
/// Only signed or unsigned 16-bit samples are read. Throws std::runtime_error on any other file.
std::vector<Bar> read_patch(const std::filesystem::path& file);

/// The first channel of a sound file.
Bar read_bar(const std::filesystem::path& file, double label_hz);

/// Where the magnitude of the Fourier transform of all samples (no window, zero-padded without end:
/// it is summed at each frequency asked for) is largest within ±`cents` of `about_hz`. For one
/// damped sinusoid in white noise its peak is near the best estimate there is; it shares no code
/// and no method with the program's fit.
double transform_peak_hz(const Bar& bar, double about_hz, double cents);

} // namespace outside
