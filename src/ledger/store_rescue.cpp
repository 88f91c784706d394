// The part of Store that puts taps back from their recordings.
#include "base/failure.hpp"
#include "base/level.hpp"
#include "base/loudest.hpp"
#include "ledger/check.hpp"
#include "ledger/recording_file.hpp"
#include "ledger/store_impl.hpp"
#include "ledger/tap_label.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>

namespace platewright::ledger {
namespace {

double peak_dbfs(const std::vector<float>& samples) {
    return base::amplitude_to_db(static_cast<double>(base::loudest(samples)));
}

double rms_dbfs(std::span<const float> samples) {
    double squares = 0.0;
    for (const float sample : samples)
        squares += static_cast<double>(sample) * static_cast<double>(sample);
    const double count = std::max<double>(1.0, static_cast<double>(samples.size()));
    return base::amplitude_to_db(std::sqrt(squares / count));
}

/// What a tap belongs to: a plate's session, or a test of wood.
struct Owner {
    Id id = 0;
    const char* insert = nullptr; ///< the beginning of the statement that puts it back
};

std::optional<Owner> owner_of(Database& database, const std::string& uid) {
    constexpr std::array<std::pair<const char*, const char*>, 2> k_owners{{
        {"SELECT id FROM session WHERE uid = ?", "INSERT INTO tap (session, "},
        {"SELECT id FROM wood_test WHERE uid = ?", "INSERT INTO wood_tap (test, "},
    }};
    for (const auto& [find, insert] : k_owners) {
        Statement row{database, find};
        row.bind_all(uid);
        if (row.step())
            return Owner{row.integer(), insert};
    }
    return std::nullopt;
}

void put_back(Store::Impl& ledger, const std::string& hash, std::size_t bytes, const Sound& sound,
              const TapLabel& label, const Owner& owner) {
    const auto onset = static_cast<std::size_t>(label.onset_index);
    Transaction transaction = ledger.change();
    ledger.database->execute("INSERT INTO recording VALUES (?, ?, ?, ?, ?)", hash,
                             sound.sample_rate_hz, static_cast<std::int64_t>(sound.samples.size()),
                             static_cast<std::int64_t>(bytes), base::now().ms_since_epoch);
    ledger.database->execute(
        std::string{owner.insert} +
            "at_ms, verdict, spot, sample_rate_hz, onset_frame, onset_index, "
            "peak_dbfs, noise_dbfs, recording) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        owner.id, label.at.ms_since_epoch, taps::to_word(label.verdict), taps::to_word(label.spot),
        static_cast<double>(sound.sample_rate_hz), label.onset_frame, label.onset_index,
        peak_dbfs(sound.samples), rms_dbfs(std::span{sound.samples}.first(onset)), hash);
    transaction.commit();
}

} // namespace

RescueReport Store::rescue() {
    RescueReport report;
    for (const std::string& hash : unclaimed_recordings(*impl_->database, impl_->folder)) {
        try {
            const std::vector<std::byte> bytes = read_whole(impl_->recording_file(hash));
            const Sound sound = decode_recording(bytes);
            const std::optional<TapLabel> label = label_from_text(sound.description);
            const auto frames = static_cast<std::int64_t>(sound.samples.size());
            if (sha256_hex(bytes) != hash || !label || label->onset_index < 0 ||
                label->onset_index >= frames) {
                ++report.unreadable;
                continue;
            }
            const auto owner = owner_of(*impl_->database, label->session_uid);
            if (!owner) {
                ++report.strangers;
                continue;
            }
            put_back(*impl_, hash, bytes.size(), sound, *label, *owner);
            ++report.taps;
        } catch (const base::Failure&) {
            if (read_only())
                throw;
            ++report.unreadable; // one damaged file must not keep the others from being rescued
        }
    }
    return report;
}

} // namespace platewright::ledger
