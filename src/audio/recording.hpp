#pragma once
#include "audio/source.hpp"
#include "base/result.hpp"

#include <cstdint>
#include <filesystem>
#include <memory>

namespace platewright::audio {

/// A recording as a Source: WAV, AIFF, FLAC, Ogg and whatever else libsndfile reads, any sample
/// format, 8 to 400 kHz, one channel of several, block by block, so that its length costs no
/// memory. A file written as a stream, or by a recorder that never closed it, states no length: it
/// is read to its end. A damaged stretch is passed over as lost frames, to a tenth of a second (a
/// long one to a share of its length). Fails: read throws base::Failure where the file breaks off
/// or holds samples that are not numbers, and at its end where a stretch of it was damaged or is
/// lacking; what could be read has been given.
class Recording final : public Source {
public:
    /// Opens a file; `channel` is counted from 0. Faults: missing, a folder, empty, no sound file,
    /// no such channel, a rate that plates can't be heard at. `force_channel`: of a hammer that
    /// tells its force; below 0 none.
    static base::Result<std::unique_ptr<Recording>> open(const std::filesystem::path& path,
                                                         int channel = 0, int force_channel = -1);
    ~Recording() override;
    double sample_rate_hz() const override;
    Block read() override;
    double duration_s() const;        ///< as the file's header states it; 0 where it states none
    std::int64_t frames_read() const; ///< so far
    float loudest() const;            ///< greatest |sample| so far

private:
    struct File;
    explicit Recording(std::unique_ptr<File> file);
    std::unique_ptr<File> file_;
};

} // namespace platewright::audio
