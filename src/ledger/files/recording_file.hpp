#pragma once
/// A tap's sound as a FLAC file in memory, and back.

#include "ledger/record.hpp"

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <span>
#include <string>
#include <vector>

namespace platewright::ledger {

/// Where a ledger's folder has the recording of this name.
std::filesystem::path recording_file(const std::filesystem::path& ledger, const std::string& hash);

/// One channel of samples, with a hammer's force where one told it, full scale ±1, its rate in Hz,
/// and what the file's comment says of it.
struct Sound {
    std::vector<float> samples;
    int sample_rate_hz = 0;
    std::string description;
    HammerForce force = {};
};

/// Encodes samples as 24-bit FLAC: one channel, or two, of which the second is a hammer's force
/// (and its newtons at full scale stand in the comment after the description). A sample is kept to
/// 2^-24 of full scale; samples beyond ±1 (a float recording may hold them) are kept by scaling the
/// whole by a power of two, which the file's comment says after the description and
/// decode_recording() undoes. Force beyond ±1 is kept as ±1, where it is clipped in any case. In:
/// at least one sample, as many of force or none, all finite; rate 1..655350 Hz, what FLAC's header
/// can say. Fails: std::invalid_argument on other input, base::Failure when the encoder gives up.
/// Cost: about 1 ms a second of sound. The same input always gives the same bytes with the same
/// libFLAC. Threads: pure.
std::vector<std::byte> encode_recording(std::span<const float> samples, int sample_rate_hz,
                                        const std::string& description = {},
                                        const HammerForce& force = {});

/// The longest recording that is read, in frames: over five minutes at 96 kHz. A tap is seconds; a
/// header that promises more is not believed.
inline constexpr std::int64_t k_longest_frames = 1 << 25;

/// Fails: base::Failure when the bytes are no whole recording, or one longer than k_longest_frames.
Sound decode_recording(std::span<const std::byte> bytes);

} // namespace platewright::ledger
