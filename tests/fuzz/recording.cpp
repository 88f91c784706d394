// A kept tap's recording, its label, and a recording from anywhere.
#include "audio/recording.hpp"

#include "base/failure.hpp"
#include "fuzz/harness.hpp"
#include "ledger/files/recording_file.hpp"
#include "ledger/files/tap_label.hpp"

#include <cmath>

using namespace platewright;

namespace {

void read_kept(std::span<const std::uint8_t> bytes) {
    try {
        const ledger::Sound sound = ledger::decode_recording(std::as_bytes(bytes));
        fuzz::hold(!sound.samples.empty() && sound.sample_rate_hz > 0);
        if (const auto label = ledger::label_from_text(sound.description))
            fuzz::hold(ledger::label_from_text(to_text(*label)).has_value());
    } catch (const base::Failure&) {
    }
}

void read_foreign(const std::filesystem::path& file) {
    constexpr std::int64_t enough = 1 << 20; // a header may promise days of silence
    const auto recording = audio::Recording::open(file);
    if (!recording)
        return;
    try {
        while ((*recording)->frames_read() < enough) {
            const audio::Block block = (*recording)->read();
            for (const float sample : block.samples)
                fuzz::hold(std::isfinite(sample));
            if (block.ended)
                break;
        }
    } catch (const base::Failure&) {
    }
}

} // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const test::TemporaryFolder folder{test::memory_folder()};
    const auto file = folder.path() / "recording";
    fuzz::write_file(file, {data, size});
    read_kept({data, size});
    read_foreign(file);
    return 0;
}
