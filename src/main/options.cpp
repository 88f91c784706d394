#include "base/text.hpp"
#include "ledger/store.hpp"
#include "main/commands.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace platewright::cli {

std::filesystem::path Common::ledger_folder() const {
    return ledger.empty() ? ledger::default_folder() : ledger;
}

CLI::Option* choice(CLI::App& command, const std::string& name, std::string& value,
                    const std::string& about, const std::vector<std::string>& words) {
    return command.add_option(name, value, about)
        ->check(CLI::IsMember(words))
        ->capture_default_str();
}

void add_band(CLI::App& command, modes::FitParams& fit, bool* is_said) {
    command
        .add_option_function<std::string>(
            "--band",
            [&fit, is_said](const std::string& text) {
                const auto colon = std::min(text.find(':'), text.size());
                const double low = base::parse_number(text.substr(0, colon)).value_or(0);
                const double high =
                    base::parse_number(text.substr(std::min(colon + 1, text.size()))).value_or(0);
                if (low < 10 || high > 20000 || high < 2 * low)
                    throw CLI::ValidationError(
                        "--band",
                        fmt::format("“{}” is no band: give LOW:HIGH in Hz from 10 to 20000, "
                                    "HIGH at least twice LOW",
                                    text));
                fit.low_hz = low;
                fit.high_hz = high;
                if (is_said != nullptr)
                    *is_said = true;
            },
            fmt::format("Frequencies looked at, in Hz [{}:{}]", fit.low_hz, fit.high_hz))
        ->type_name("LOW:HIGH");
}

void add_doubtful(CLI::App& command, bool& takes_doubtful) {
    command.add_flag("--doubtful", takes_doubtful,
                     "Count taps that hardly rang, too: they are marked as counted by your word");
}

void add_json(CLI::App& command, Common& common) {
    command.add_flag("--json", common.json, "Print JSON (docs/json.md) in place of a table");
}

void add_chart(CLI::App& command, std::filesystem::path& chart, const std::string& what) {
    option(command, "--chart", chart, what + " into a file: .png, .svg or .pdf", "FILE")
        ->check([](const std::string& path) {
            const auto kind = report::picture_kind(path);
            return kind ? std::string() : kind.fault().what;
        });
}

void add_plate(CLI::App& command, std::string& plate) {
    command.add_option("PLATE", plate, "The plate, by name or number")->required();
}

void add_session(CLI::App& command, std::string& session) {
    option(command, "--session", session, "The session, by date or number [the newest]", "SESSION");
}

const CLI::Option* add_air(CLI::App& command, std::string& air, const std::string& help) {
    return command.add_option("--air", air, help)->expected(0, 1)->type_name("C:PCT");
}

void add_channel(CLI::App& command, int& channel) {
    command.add_option("--channel", channel, "Channel to read, counted from 1")
        ->check(CLI::Range(1, 1024))
        ->capture_default_str();
}

void add_when(CLI::App& command, std::string& when) {
    option(command, "--when", when,
           "Date (2026-03-14 or 14.3.2026), or date and time, by your own clock [now]", "DATE");
}

void add_ledger(CLI::App& command, Common& common) {
    option(command, "--ledger", common.ledger,
           "The ledger's folder [$PLATEWRIGHT_LEDGER, else your own]", "FOLDER")
        ->check([](const std::string&
                       folder) { // an empty variable in a script is no wish for the maker's own
            return folder.empty() ? std::string("a folder without a name: name the ledger's folder")
                                  : std::string();
        });
}

} // namespace platewright::cli
