#pragma once
#include <cstdint>
#include <filesystem>

namespace platewright::audio {

/// What a recording's header says of its length.
struct StatedLength {
    bool is_open =
        false; ///< nothing that could be true: it was written as a stream, or never closed
    /// Where it says 0 with sound behind it, as a recorder whose battery died leaves it: the place
    /// of the four bytes in the file, and what they should be. 0: nothing to mend.
    std::int64_t size_at = 0;
    std::uint32_t size = 0;
};

/// Looks into the header of a WAV (RIFF: Microsoft and IBM, Multimedia Programming Interface, 1991)
/// or a FLAC (RFC 9639, 8.2: a total of 0 samples is an unknown one). Of any other file: not open.
StatedLength stated_length(const std::filesystem::path& file);

} // namespace platewright::audio
