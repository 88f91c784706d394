#include <memory>

#include <fmt/format.h>

#include "ledger/check.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find_plate.hpp"
#include "main/json.hpp"

namespace platewright::cli {
namespace {

void print_json(const ledger::CheckReport& report) {
    print({{"schema", "platewright.check/1"},
           {"whole", report.whole()},
           {"taps", report.taps},
           {"recordings", report.recordings},
           {"database", report.database},
           {"unfit", report.unfit},
           {"missing", report.missing},
           {"damaged", report.damaged},
           {"unclaimed", report.unclaimed}},
          true);
}

void print_list(std::string_view head, const std::vector<std::string>& items) {
    if (items.empty())
        return;
    say(head);
    for (const std::string& item : items)
        say("  " + item);
}

void print_report(const ledger::CheckReport& report, const std::filesystem::path& folder) {
    say(fmt::format("{} taps, {} recordings in {}", report.taps, report.recordings, folder.string()));
    print_list("The database is damaged. Close the program, put the newest whole copy from the ledger's folder "
               "“backups” in its place,\nkeep the damaged one, and run this again with --mend:", report.database);
    print_list("What another hand or a later program put into the database, and this program leaves out or does not "
               "write to;\ntake it from whoever made it, or go back to a copy from “backups”:", report.unfit);
    print_list("Recordings that are missing; the figures of their taps are kept:", report.missing);
    print_list("Recordings that are damaged; take them from a backup of the folder:", report.damaged);
    print_list("Recordings that no tap names; they do no harm:", report.unclaimed);
    if (report.whole())
        say("All of it is whole.");
}

/// Taps of recordings that the database does not know, put back; said to people only.
void mend(const std::filesystem::path& folder, bool json) {
    const ledger::RescueReport done = ledger::Store(folder).rescue();
    if (!json)
        say(fmt::format("{} taps put back from their recordings; {} recordings of sessions not in the database; "
                        "{} that could not be used.", done.taps, done.strangers, done.unreadable));
}

ExitCode check(const Common& common, bool mending) {
    const std::filesystem::path folder = common.ledger_folder();
    if (const auto store = open_to_read(folder); !store) {
        complain(store.fault().what);
        return k_nothing_found;
    }
    if (mending)
        mend(folder, common.json);
    const ledger::CheckReport report = ledger::check(folder);
    if (common.json)
        print_json(report);
    else
        print_report(report, folder);
    return report.whole() ? k_done : k_failed;
}

} // namespace

void add_check(CLI::App& app, Common& common, Chosen& chosen) {
    auto* command = app.add_subcommand("check", "Read the whole ledger, every recording too, and say whether it is whole");
    command->footer("  platewright check\n\n"
                    "Nothing is changed, but by --mend. Exit code 1 when something is damaged or missing.");
    auto mending = std::make_shared<bool>(false);
    command->add_flag("--mend", *mending, "Put back taps that the database lost, from what their recordings say");
    add_ledger(*command, common);
    add_json(*command, common);
    command->callback([&chosen, &common, mending] { chosen = [&common, mending] { return check(common, *mending); }; });
}

} // namespace platewright::cli
