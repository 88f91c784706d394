#include "ledger/mend/check.hpp"

#include "ledger/mend/backups.hpp"
#include "ledger/mend/mend.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find.hpp"
#include "main/json.hpp"
#include "main/ledger/mending.hpp"

#include <fmt/format.h>
#include <memory>
#include <optional>

namespace platewright::cli {
namespace {

/// What was mended, and how many taps were read anew after it.
struct Mended {
    ledger::MendReport report;
    int read = 0;
};

Json mended_json(const Mended& mended) {
    const ledger::MendReport& report = mended.report;
    return {{"was_damaged", report.was_damaged},
            {"was_gone", report.was_gone},
            {"laid_aside", or_null(!report.laid_aside.empty(), report.laid_aside.string())},
            {"rows_read", report.rows_read},
            {"copies", report.copies},
            {"rows_from_copies", report.rows_from_copies},
            {"healed", report.healed},
            {"changed", report.changed},
            {"found", found_json(report.found, mended.read)}};
}

void print_check_json(const ledger::CheckReport& report, const std::optional<Mended>& mended) {
    Json json{{"schema", "platewright.check/1"},
              {"whole", report.whole()},
              {"taps", report.taps},
              {"sessions", report.sessions},
              {"recordings", report.recordings},
              {"database", report.database},
              {"changed", report.changed},
              {"unfit", report.unfit},
              {"missing", report.missing},
              {"damaged", report.damaged},
              {"strangers", report.strangers},
              {"unclaimed", report.unclaimed}};
    if (mended)
        json["mended"] = mended_json(*mended);
    print(json);
}

void print_list(std::string_view head, const std::vector<std::string>& items) {
    if (items.empty())
        return;
    say(head);
    say(items);
}

void print_mended(const Mended& mended) {
    const ledger::MendReport& report = mended.report;
    if (report.was_gone)
        say("The database was gone; a new one was made.");
    else if (!report.laid_aside.empty())
        say(fmt::format(
            "{}; it is kept in {}.\nA new one was made from {} rows that could be read of it.",
            report.was_damaged ? "The database was damaged"
                               : "Figures in the database had changed without the program",
            report.laid_aside.string(), report.rows_read));
    if (report.rows_from_copies > 0)
        say(fmt::format("{} rows came from earlier copies.", report.rows_from_copies));
    if (report.healed > 0)
        say(fmt::format("{} changed parts are again as a copy has them.", report.healed));
    print_list("These had changed, and no copy has them as they were; look at them, and correct "
               "what is wrong:",
               report.changed);
    say(found_text(report.found));
    if (mended.read > 0)
        say(fmt::format("{} taps were read anew from their recordings.", mended.read));
}

void print_report(const ledger::CheckReport& report, const std::filesystem::path& folder) {
    say(fmt::format("{} taps of {} sessions, {} recordings in {}", report.taps, report.sessions,
                    report.recordings, folder.string()));
    print_list("The database is damaged; what can be read of it is counted above. Close the "
               "program and run this again with\n"
               "--mend: it keeps the damaged one, and makes a new one from what can be read, the "
               "copies and the recordings:",
               report.database);
    print_list(
        "What another hand or a later program put into the database, and this program "
        "leaves out or does not "
        "write to;\ntake it from whoever made it, or go back to a copy (platewright restore):",
        report.unfit);
    print_list("Figures that changed without the program. --mend takes them from a copy that has "
               "them as they were:",
               report.changed);
    print_list("Recordings that are missing; the figures of their taps are kept:", report.missing);
    print_list("Recordings that are damaged; take them from a backup of the folder:",
               report.damaged);
    print_list("Recordings, and facts of sessions, that the database does not know. --mend brings "
               "them back:",
               report.strangers);
    print_list("Recordings of other programs; they do no harm:", report.unclaimed);
    if (report.whole())
        say("All of it is whole.");
}

ExitCode check_ledger(bool mending, const Common& common) {
    const std::filesystem::path folder = common.ledger_folder();
    std::optional<Mended> mended;
    const bool can_mend =
        mending && (ledger::holds_recordings(folder) || !ledger::copies_in(folder).empty());
    if (!std::filesystem::exists(folder / "ledger.sqlite") && !can_mend)
        return refuse(open_to_read(folder).fault().what, k_nothing_found);
    if (mending) {
        mended.emplace(Mended{ledger::mend(folder), 0});
        mended->read = read_found_again(folder);
    }
    const ledger::CheckReport report = ledger::check(folder);
    if (common.json) {
        print_check_json(report, mended);
    } else {
        if (mended)
            print_mended(*mended);
        print_report(report, folder);
    }
    return report.whole() ? k_done : k_failed;
}

} // namespace

void add_check(CLI::App& app, Common& common, Chosen& chosen) {
    auto* command = app.add_subcommand(
        "check", "Read the whole ledger, every recording too, and say whether it is whole");
    command->footer("  platewright check\n"
                    "  platewright check --mend\n\n"
                    "Nothing is changed, but by --mend, which keeps what it replaces. Exit code 1 "
                    "when something is damaged,\n"
                    "missing, changed, or lies beside the database unknown to it.");
    auto mending = std::make_shared<bool>(false);
    command->add_flag(
        "--mend", *mending,
        "Bring back all that the database, its copies and the recordings hold together");
    finish(*command, common, chosen, mending, check_ledger);
}

} // namespace platewright::cli
