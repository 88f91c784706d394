#pragma once
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <sndfile.h>

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

/// A WAV's bytes with the length of its sound as it should stand, for libsndfile to read; the file
/// itself is not touched.
class MendedFile {
public:
    MendedFile(const std::filesystem::path& file, const StatedLength& mend);
    /// What sf_open_virtual calls, with the MendedFile as its own.
    static SF_VIRTUAL_IO& calls();

private:
    sf_count_t read(char* into, sf_count_t count);
    sf_count_t seek(sf_count_t offset, int whence);

    std::ifstream in_;
    sf_count_t length_ = 0, at_ = 0;
    StatedLength mend_;
};

} // namespace platewright::audio
