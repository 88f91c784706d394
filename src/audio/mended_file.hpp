#pragma once
#include "audio/stated_length.hpp"

#include <fstream>
#include <sndfile.h>

namespace platewright::audio {

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
