#pragma once
#include "audio/force_memory.hpp"
#include "bench/sound/listening.hpp"
#include "main/json.hpp"
#include "modes/signal/response.hpp"

#include <CLI/CLI.hpp>
#include <array>
#include <filesystem>
#include <optional>

namespace platewright::cli {

/// `--force CHANNEL[:NEWTON]` and `--responses FILE`, shared by read and listen.
struct ForceOptions {
    int channel = 0;                 ///< counted from 1; 0: no force is told
    std::optional<double> newton;    ///< at full scale; nothing: not known
    std::filesystem::path responses; ///< a Universal File to be written; empty: none
    int from_zero() const { return channel - 1; }
};
void add_force(CLI::App& command, ForceOptions& options);

/// The response of the plate from the strikes as they come in.
class ForceReading {
public:
    ForceReading(const ForceOptions& options, double sample_rate_hz)
        : options_(options), estimate_(sample_rate_hz, options.newton.value_or(1.0)) {}
    /// An accepted tap, with all its samples; any other is passed over.
    void take(const bench::HeardTap& tap, const audio::ForceMemory& memory);

    /// At the modes found: |H1|, its phase, its doubt (95 %), coherence.
    std::string table(std::span<const modes::Mode> modes) const;
    Json json(std::span<const modes::Mode> modes) const;
    /// Writes H1 and coherence as dataset 58. `about`: where they come from. Fails: base::Failure.
    void write(const std::string& about) const;
    /// One sentence where strikes told no good force; empty otherwise.
    std::string remark() const;

private:
    const char* unit() const { return options_.newton ? "1/N" : "1"; }
    const ForceOptions& options_;
    modes::ResponseEstimate estimate_;
    std::array<int, 5> judged_{}; ///< by ForceVerdict; the last: force no longer known
};

} // namespace platewright::cli
