#pragma once
#include <optional>
#include <span>

namespace platewright::bench {

/// What a few seconds of quiet say of a room and a microphone.
struct RoomReport {
    double noise_dbfs = -160;     ///< RMS between 40 and 2500 Hz
    std::optional<double> hum_hz; ///< 50 or 60, where the mains or its harmonics stand out
    double hum_db = 0;            ///< how far its strongest line stands above what lies beside it
    /// The quiet's density about 60 Hz against that about 300 Hz. Rooms are louder towards low
    /// frequencies, so a microphone that hears less there does not reach down.
    double low_end_db = 0;
    bool reaches_60_hz = false;
    bool silent = false; ///< nothing at all arrived: the rest says nothing
};

/// From at least one second of quiet; a tap or a voice in it spoils the report. Welch's averaged
/// periodogram (docs/sources.md#welch), 1 Hz steps. Cost: some ms a second of sound. Pure.
/// The limits (hum from 10 dB, low end down to −12 dB) are ours, no source.
RoomReport room_report(std::span<const float> samples, double sample_rate_hz);

} // namespace platewright::bench
