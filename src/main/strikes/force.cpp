#include "main/strikes/force.hpp"

#include "base/angle.hpp"
#include "base/failure.hpp"
#include "base/interval.hpp"
#include "base/text.hpp"
#include "main/commands.hpp"
#include "report/tables/uff_file.hpp"

#include <cmath>
#include <fmt/format.h>
#include <fstream>

namespace platewright::cli {

using base::fixed;

void add_force(CLI::App& command, ForceOptions& options) {
    command
        .add_option_function<std::string>(
            "--force",
            [&options](const std::string& text) {
                const auto colon = std::min(text.find(':'), text.size());
                const auto channel = base::parse_number(text.substr(0, colon));
                const auto newton = colon < text.size()
                                        ? base::parse_measure(text.substr(colon + 1), "N")
                                        : std::optional<double>(1.0);
                if (!channel || *channel < 1 || *channel > 1024 ||
                    *channel != std::floor(*channel) || !newton || !(*newton > 0))
                    throw CLI::ValidationError(
                        "--force", fmt::format("“{}”: give CHANNEL or CHANNEL:NEWTON, the force at "
                                               "full scale, such as 2:220",
                                               text));
                options.channel = static_cast<int>(*channel);
                if (colon < text.size())
                    options.newton = newton;
            },
            "The channel of a hammer that tells its force, and its newtons at full scale: the "
            "plate's response to the force is then told")
        ->type_name("CHANNEL[:NEWTON]");
    option(command, "--responses", options.responses,
           "With --force: response (H1) and coherence into a Universal File (dataset 58)", "FILE");
}

void ForceReading::take(const bench::HeardTap& heard, const audio::ForceMemory& memory) {
    const taps::Tap& tap = heard.tap;
    if (!taps::counts(tap.verdict) || tap.samples.empty())
        return;
    const std::vector<float> force = memory.force(
        tap.onset_frame - static_cast<std::int64_t>(tap.onset_index), tap.samples.size());
    if (force.empty()) {
        ++judged_.back();
        return;
    }
    ++judged_.at(static_cast<std::size_t>(
        estimate_.add({.force = force, .heard = tap.samples, .onset = tap.onset_index})));
}

std::string ForceReading::table(std::span<const modes::Mode> modes) const {
    const modes::Response response = estimate_.result();
    if (response.strikes == 0)
        return {};
    Table table({"Hz", fmt::format("|H1| {}", unit()), "± %", "phase °", "coherence"});
    for (const modes::Mode& mode : modes) {
        const modes::Response::Reading at = response.at(mode.frequency_hz);
        const bool driven = mode.frequency_hz <= response.driven_to_hz;
        table.row({fixed(mode.frequency_hz, 1),
                   driven ? fmt::format("{:.4g}", at.h1) : "not driven",
                   driven && response.strikes > 1 ? fixed(100 * base::plus_minus(at.relative_sd), 1)
                                                  : "–",
                   driven ? fixed(base::in_deg(at.phase_rad), 0) : "–",
                   response.strikes > 1 ? fixed(at.coherence, 3) : "–"});
    }
    return fmt::format("  response to the force (H1), {} strikes, driven to {} Hz\n{}",
                       response.strikes, fixed(response.driven_to_hz, 0), table.text());
}

Json ForceReading::json(std::span<const modes::Mode> modes) const {
    const modes::Response response = estimate_.result();
    Json at_modes = Json::array();
    for (const modes::Mode& mode : modes) {
        if (response.strikes == 0)
            break;
        const modes::Response::Reading at = response.at(mode.frequency_hz);
        const bool many = response.strikes > 1;
        at_modes.push_back({{"hz", mode.frequency_hz},
                            {"h1", at.h1},
                            {"phase_rad", at.phase_rad},
                            {"coherence", or_null(many, at.coherence)},
                            {"relative_sd", or_null(many, at.relative_sd)}});
    }
    return {{"strikes", response.strikes},
            {"no_force", judged_[1] + judged_[4]},
            {"force_clipped", judged_[2]},
            {"pushed_twice", judged_[3]},
            {"unit", unit()},
            {"driven_to_hz", response.driven_to_hz},
            {"modes", at_modes}};
}

std::string ForceReading::remark() const {
    const int without = judged_[1] + judged_[4];
    if (without + judged_[2] + judged_[3] == 0)
        return {};
    return fmt::format("Of the accepted taps {} told no force, {} had their force clipped and {} "
                       "pushed twice; they do not "
                       "count in the response. Check the channel and its gain.",
                       without, judged_[2], judged_[3]);
}

void ForceReading::write(const std::string& about) const {
    const modes::Response response = estimate_.result();
    if (options_.responses.empty() || response.strikes == 0)
        return;
    report::UffWriter file("Response to a hammer's force", "Platewright " PLATEWRIGHT_VERSION, "");
    report::UffFunction function;
    function.kind = report::UffFunction::Kind::response;
    function.about = {
        "Response H1 of sound to force", about,
        fmt::format("{} strikes, driven to {:.0f} Hz", response.strikes, response.driven_to_hz), "",
        ""};
    function.step_hz = response.step_hz;
    function.complex = response.h1;
    function.heard = {"MICROPHONE", 0, 0, 0, "SOUND", "FULL SCALE"};
    function.driven = {"HAMMER", 0, 0, 13, "FORCE", options_.newton ? "N" : "FULL SCALE"};
    file.add(function);
    report::UffFunction coherence = function;
    coherence.kind = report::UffFunction::Kind::coherence;
    coherence.about[0] = "Coherence of sound and force";
    coherence.complex.clear();
    coherence.real = response.coherence;
    file.add(coherence);
    std::ofstream out(options_.responses, std::ios::binary | std::ios::trunc);
    out << file.text();
    out.close();
    if (!out)
        throw base::Failure(
            fmt::format("“{}” could not be written. Check the folder and the free space.",
                        options_.responses.string()));
}

} // namespace platewright::cli
