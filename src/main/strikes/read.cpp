#include "base/text.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/json.hpp"
#include "main/strikes/force.hpp"
#include "main/strikes/hear.hpp"
#include "main/tables.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <memory>

namespace platewright::cli {
namespace {

struct ReadOptions {
    std::vector<std::filesystem::path> files;
    modes::FitParams fit;
    int channel = 1;
    bool takes_doubtful = false;
    ForceOptions force;
};

Json room_json(const modes::Reverberation& room) {
    if (!(room.share > 0))
        return nullptr;
    return {{"t60_s", std::log(1000.0) / room.decay_per_s},
            {"direct_db", -10 * std::log10(room.share)},
            {"cents", modes::cost_cents(room)}};
}

Json file_json(const std::filesystem::path& path, const Heard& heard) {
    const modes::InputFaults faults = bench::input_faults(heard.taps);
    Json json{{"path", path.string()},
              {"sample_rate_hz", heard.sample_rate_hz},
              {"duration_s", heard.duration_s},
              {"taps", heard.taps},
              {"modes", heard.pooled.modes},
              {"input",
               {{"moves_gain", faults.moves_gain},
                {"bends", faults.bends},
                {"room", room_json(faults.room)}}}};
    if (!heard.trouble.empty())
        json["trouble"] = heard.trouble;
    return json;
}

void print_file(const std::filesystem::path& path, const Heard& heard) {
    say(fmt::format("{}: {} s at {} Hz", path.string(), base::fixed(heard.duration_s, 2),
                    base::fixed(heard.sample_rate_hz, 0)));
    if (!heard.taps.empty())
        say(taps_table(heard.taps));
    if (!heard.pooled.modes.empty())
        say("  modes over the accepted taps\n" + modes_table(unnamed(heard.pooled.modes), false));
}

/// Why nothing was found, when that needs saying.
std::string nothing_in(const std::filesystem::path& path, const Heard& heard) {
    if (heard.silent)
        return fmt::format("“{}” is silent: check that the right input and channel were recorded.",
                           path.string());
    if (heard.taps.empty())
        return fmt::format(
            "No taps were found in “{}”: record in a quieter room or nearer, or widen --band.",
            path.string());
    if (const auto doubtful =
            std::ranges::count(heard.taps, taps::Verdict::doubtful,
                               [](const bench::HeardTap& tap) { return tap.tap.verdict; });
        doubtful > 0)
        return fmt::format("No tap in “{}” rang clearly enough to be told from a knock; --doubtful "
                           "counts the {} that may have rung.",
                           path.string(), doubtful);
    return fmt::format("No tap in “{}” was good enough to read; the verdicts say why.",
                       path.string());
}

Heard hear_with(const std::filesystem::path& path, const ReadOptions& options,
                std::optional<ForceReading>& force) {
    const auto vouch = [&](bench::HeardTap& tap) { bench::vouch_if(options.takes_doubtful, tap); };
    if (options.force.channel == 0)
        return hear(path, options.channel - 1, options.fit, vouch);
    return hear(path, options.channel - 1, options.fit, options.force.from_zero(),
                [&](bench::HeardTap& tap, const audio::ForceMemory& memory) {
                    vouch(tap);
                    if (!force)
                        force.emplace(options.force, tap.tap.sample_rate_hz);
                    force->take(tap, memory);
                });
}

void tell_force(const ForceReading& force, const Heard& heard, const std::filesystem::path& path,
                Json* json) {
    if (json != nullptr)
        (*json)["response"] = force.json(heard.pooled.modes);
    else if (const std::string table = force.table(heard.pooled.modes); !table.empty())
        say(table);
    if (const std::string remark = force.remark(); !remark.empty())
        complain(remark);
    force.write("Recording: " + path.filename().string());
}

ExitCode read_files(const ReadOptions& options, const Common& common) {
    if (!options.force.responses.empty() &&
        (options.force.channel == 0 || options.files.size() != 1)) {
        complain("--responses needs --force and one recording.");
        return k_wrong_usage;
    }
    bool found = false, unusable = false;
    Json files = Json::array();
    for (const auto& path : options.files) {
        std::optional<ForceReading> force;
        const Heard heard = hear_with(path, options, force);
        if (!common.json && heard.sample_rate_hz > 0)
            print_file(path, heard);
        if (common.json)
            files.push_back(file_json(path, heard));
        if (force)
            tell_force(*force, heard, path, common.json ? &files.back() : nullptr);
        if (!heard.trouble.empty()) {
            unusable = true;
            complain(heard.trouble);
        } else if (heard.pooled.modes.empty()) {
            complain(nothing_in(path, heard));
        }
        for (const std::string& remark : input_remarks(path, heard))
            complain(remark);
        found = found || !heard.pooled.modes.empty();
    }
    if (common.json)
        print({{"schema", "platewright.read/1"}, {"files", files}});
    return unusable ? k_unusable : found ? k_done : k_nothing_found;
}

} // namespace

void add_read(CLI::App& app, Common& common, Chosen& chosen) {
    auto* command = app.add_subcommand("read", "Find taps and modes in recordings");
    command->footer(
        "Each tap is listed with its verdict, and the modes pooled over the accepted taps.\n"
        "± is an interval of 95 %; spread is from tap to tap: how well the hold repeats.\n\n"
        "  platewright read back.wav\n"
        "  platewright read --band 40:1200 --json monday.flac tuesday.flac\n"
        "  platewright read --force 2:220 --responses back.uff hammer.wav\n\n"
        "Exit code 3: a file could not be used, or not to its end; 4: no modes found.");
    auto options = std::make_shared<ReadOptions>();
    command->add_option("FILE", options->files, "Recordings: WAV, AIFF, FLAC, Ogg")->required();
    add_channel(*command, options->channel);
    add_doubtful(*command, options->takes_doubtful);
    add_force(*command, options->force);
    add_band(*command, options->fit);
    finish_without_ledger(*command, common, chosen, options, read_files);
}

} // namespace platewright::cli
