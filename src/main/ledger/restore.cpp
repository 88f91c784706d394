#include "ledger/mend/backups.hpp"
#include "ledger/mend/mend.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find.hpp"
#include "main/json.hpp"
#include "main/ledger/mending.hpp"

#include <fmt/format.h>
#include <memory>

namespace platewright::cli {
namespace {

struct RestoreOptions {
    std::string copy;
    bool undo = false, as_it_was = false;
};

std::string_view kind_word(ledger::LaidCopy::Kind kind) {
    switch (kind) {
    case ledger::LaidCopy::Kind::regular:
        return "regular";
    case ledger::LaidCopy::Kind::before_change:
        return "before a change";
    case ledger::LaidCopy::Kind::replaced:
        break;
    }
    return "replaced";
}

std::string moment_text(const ledger::LaidCopy& copy) {
    if (!copy.made)
        return "–";
    return copy.kind == ledger::LaidCopy::Kind::replaced ? base::to_iso(*copy.made).substr(0, 10)
                                                         : base::local_date_time(*copy.made);
}

Json copy_json(const ledger::LaidCopy& copy) {
    return {{"name", copy.name},
            {"kind", copy.kind == ledger::LaidCopy::Kind::before_change
                         ? "before_change"
                         : std::string(kind_word(copy.kind))},
            {"number", copy.number},
            {"made", copy.made},
            {"bytes", copy.bytes}};
}

ExitCode list_copies(const std::filesystem::path& folder, bool json) {
    const auto copies = ledger::copies_in(folder);
    if (json) {
        print({{"schema", "platewright.restore/1"}, {"copies", array_of(copies, copy_json)}});
        return copies.empty() ? k_nothing_found : k_done;
    }
    if (copies.empty()) {
        complain(fmt::format("No copy of a database lies in “{}”; platewright check --mend brings "
                             "back what its recordings "
                             "hold.",
                             folder.string()));
        return k_nothing_found;
    }
    Table table({"copy", "made", "kB", "kind"});
    for (const ledger::LaidCopy& copy : copies)
        table.row({copy.name, moment_text(copy), std::to_string((copy.bytes + 1023) / 1024),
                   std::string(kind_word(copy.kind))});
    put(table.text());
    say("  `platewright restore COPY` puts one back, then what was kept since; what it replaces is "
        "kept.");
    return k_done;
}

/// The newest of those that were replaced.
std::string newest_replaced(const std::filesystem::path& folder) {
    for (const ledger::LaidCopy& copy : ledger::copies_in(folder))
        if (copy.kind == ledger::LaidCopy::Kind::replaced)
            return copy.name;
    return {};
}

ExitCode put_back(const std::filesystem::path& folder, const RestoreOptions& o, bool json) {
    const std::string name = o.undo ? newest_replaced(folder) : o.copy;
    const bool also_mend = !o.as_it_was && !o.undo;
    const ledger::RestoreReport report = needed(ledger::restore(folder, name, also_mend));
    const int read = also_mend ? read_found_again(folder) : 0;
    if (json) {
        print({{"schema", "platewright.restore/1"},
               {"restored", copy_json(report.copy)},
               {"laid_aside", or_null(!report.laid_aside.empty(), report.laid_aside.string())},
               {"found", found_json(report.found, read)}});
        return k_done;
    }
    say(fmt::format("The copy {} of {} is in its place.", report.copy.name,
                    moment_text(report.copy)));
    if (also_mend)
        say(found_text(report.found));
    if (!report.laid_aside.empty())
        say(fmt::format(
            "What it replaced is kept in {}; `platewright restore --undo` puts that back.",
            report.laid_aside.string()));
    return k_done;
}

ExitCode restore(const RestoreOptions& o, const Common& common) {
    const std::filesystem::path folder = common.ledger_folder();
    return o.copy.empty() && !o.undo ? list_copies(folder, common.json)
                                     : put_back(folder, o, common.json);
}

} // namespace

void add_restore(CLI::App& app, Common& common, Chosen& chosen) {
    auto* command =
        app.add_subcommand("restore", "List the copies of the ledger's database, or put one back");
    command->footer("The taps and sessions kept since the copy come back with it, from their "
                    "recordings. Close other\n"
                    "programs that have the ledger open.\n\n"
                    "  platewright restore\n"
                    "  platewright restore 123\n"
                    "  platewright restore --undo");
    auto o = std::make_shared<RestoreOptions>();
    auto* copy =
        command->add_option("COPY", o->copy, "The copy, by its name or number [list them]");
    command->add_flag("--undo", o->undo, "Put back what was replaced last, as it was")
        ->excludes(copy);
    command->add_flag("--as-it-was", o->as_it_was,
                      "Leave what was kept since the copy where it is");
    finish(*command, common, chosen, o, restore);
}

} // namespace platewright::cli
