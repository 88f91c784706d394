#pragma once
#include "main/console.hpp"
#include "modes/estimate/fit.hpp"
#include "report/tables/chart_file.hpp"

#include <CLI/CLI.hpp>
#include <filesystem>
#include <fmt/format.h>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace platewright::cli {

/// What every command may be given.
struct Common {
    bool json = false;
    std::filesystem::path ledger; ///< empty: the maker's own
    std::filesystem::path ledger_folder() const;
};

/// A command adds itself to the command line and leaves in `chosen` what is to be done when it is
/// given.
using Chosen = std::function<ExitCode()>;
void add_read(CLI::App& app, Common& common, Chosen& chosen);
void add_listen(CLI::App& app, Common& common, Chosen& chosen);
void add_enter(CLI::App& app, Common& common, Chosen& chosen);
void add_drift(CLI::App& app, Common& common, Chosen& chosen);
void add_against(CLI::App& app, Common& common, Chosen& chosen);
void add_caliper(CLI::App& app, Common& common, Chosen& chosen);
void add_weigh(CLI::App& app, Common& common, Chosen& chosen);
void add_rehearse(CLI::App& app, Common& common, Chosen& chosen);
void add_plan(CLI::App& app, Common& common, Chosen& chosen);
void add_sheet(CLI::App& app, Common& common, Chosen& chosen);
void add_bundle(CLI::App& app, Common& common, Chosen& chosen);
void add_again(CLI::App& app, Common& common, Chosen& chosen);
void add_correct(CLI::App& app, Common& common, Chosen& chosen);
void add_bin(CLI::App& app, Common& common, Chosen& chosen);
void add_wood(CLI::App& app, Common& common, Chosen& chosen);
void add_wood_add(CLI::App& wood, Common& common, Chosen& chosen); ///< part of it
void add_check(CLI::App& app, Common& common, Chosen& chosen);
void add_restore(CLI::App& app, Common& common, Chosen& chosen);
/// Not for people: the words that may come next, for completion in shells.
void add_complete(CLI::App& app, Common& common, Chosen& chosen);
void add_record(CLI::App& app, Common& common, Chosen& chosen);
void add_demo(CLI::App& app, Common& common, Chosen& chosen);

/// An option, and what stands for its value in the help.
template <class Value>
CLI::Option* option(CLI::App& command, const std::string& name, Value& value,
                    const std::string& about, const char* stands_for) {
    return command.add_option(name, value, about)->type_name(stands_for);
}
/// The same of one that may be given several times, a value each.
template <class Value>
CLI::Option* repeated(CLI::App& command, const std::string& name, Value& value,
                      const std::string& about, const char* stands_for) {
    return option(command, name, value, about, stands_for)->allow_extra_args(false);
}
/// One of a few words; its value of now is what holds where none is given.
CLI::Option* choice(CLI::App& command, const std::string& name, std::string& value,
                    const std::string& about, const std::vector<std::string>& words);

/// `--band LOW:HIGH`, shared by commands that listen; `is_said` tells whether it was given.
void add_band(CLI::App& command, modes::FitParams& fit, bool* is_said = nullptr);
/// `--doubtful`: the maker's word for taps that hardly rang.
void add_doubtful(CLI::App& command, bool& takes_doubtful);
/// `--chart FILE`, refused unless its ending is one that report/ writes.
void add_chart(CLI::App& command, std::filesystem::path& chart, const std::string& what);
/// Draws it there, and says so: "The map is in FILE".
template <class Picture>
void draw_chart(const Picture& picture, const std::filesystem::path& file, const Common& common,
                std::string_view what) {
    report::write_chart(picture, file, *report::picture_kind(file));
    if (!common.json)
        say(fmt::format("The {} is in {}", what, file.string()));
}
/// `PLATE`, by name or number, and `--session`: nothing said is the newest.
void add_plate(CLI::App& command, std::string& plate);
void add_session(CLI::App& command, std::string& session);
/// `--air C:PCT`, or `--air` alone: then it counts, and nothing stands in `air`.
const CLI::Option* add_air(CLI::App& command, std::string& air, const std::string& help);
/// `--channel N` of recordings, counted from 1.
void add_channel(CLI::App& command, int& channel);
/// `--when DATE`: of what is entered.
void add_when(CLI::App& command, std::string& when);
void add_json(CLI::App& command, Common& common);
void add_ledger(CLI::App& command, Common& common);

/// What every command ends with: --json, and what is done with its options.
template <class Options, class Act>
void finish_without_ledger(CLI::App& command, Common& common, Chosen& chosen,
                           std::shared_ptr<Options> options, Act act) {
    add_json(command, common);
    command.callback([&chosen, &common, options, act] {
        chosen = [&common, options, act] { return act(*options, common); };
    });
}
/// The same of a command of a ledger, which may be another than the maker's own.
template <class Options, class Act>
void finish(CLI::App& command, Common& common, Chosen& chosen, std::shared_ptr<Options> options,
            Act act) {
    add_ledger(command, common);
    finish_without_ledger(command, common, chosen, std::move(options), act);
}

} // namespace platewright::cli
