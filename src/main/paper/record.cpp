#include "base/clock.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find.hpp"
#include "main/json.hpp"
#include "main/paper/sheet_contents.hpp"
#include "main/paper/sheet_order.hpp"

#include <fmt/format.h>
#include <memory>

namespace platewright::cli {
namespace {

struct RecordOptions {
    std::string name, language;
    std::filesystem::path file;
    int sounds = 1;
    bool no_notes = false;
};

ExitCode record(const RecordOptions& o, const Common& common) {
    const ledger::Store store = needed(open_to_read(common.ledger_folder()));
    const ledger::InstrumentRecord instrument = needed(find_instrument(store, o.name));
    const std::filesystem::path file =
        o.file.empty() ? std::filesystem::path(file_name_of(instrument.label) + ".html") : o.file;
    report::RecordPage page;
    {
        const wording::Speaking speaking = speaking_for_people(o.language);
        page = record_of(store, instrument, static_cast<std::size_t>(o.sounds));
        page.with_notes = !o.no_notes;
        report::write_page(page, file, base::now());
    }
    std::size_t sessions = 0;
    for (const report::PlateSheet& plate : page.sheet.plates)
        sessions += plate.history.sessions.size();
    if (common.json)
        print({{"schema", "platewright.record/1"},
               {"file", file.string()},
               {"plates", page.sheet.plates.size()},
               {"sessions", sessions},
               {"taps", page.taps.size()}});
    else
        say(fmt::format("The record is in {} ({} sessions, {} taps to be heard)", file.string(),
                        sessions, page.taps.size()));
    return k_done;
}

} // namespace

void add_record(CLI::App& app, Common& common, Chosen& chosen) {
    auto* command = app.add_subcommand(
        "record", "An instrument's making as one page for a browser, its taps to be heard");
    command->footer(
        "One HTML file with all in it: nothing is fetched, and it prints well. It is what a "
        "customer or a colleague\nis given; what the notes say is for you to judge.\n\n"
        "  platewright record Wren\n"
        "  platewright record Wren --to wren.html --language it --no-notes");
    auto o = std::make_shared<RecordOptions>();
    command->add_option("NAME", o->name, "The instrument, by name or number")->required();
    option(*command, "--to", o->file, "The HTML file [the instrument's name, here]", "FILE");
    command
        ->add_option("--language", o->language,
                     "What the page is written in: en, de or it [the window's]")
        ->check(CLI::IsMember({"en", "de", "it"}));
    command
        ->add_option("--sounds", o->sounds,
                     "Taps to be heard of each session, the clearest of each spot")
        ->check(CLI::Range(0, 12))
        ->capture_default_str();
    command->add_flag("--no-notes", o->no_notes, "Leave out what you noted");
    finish(*command, common, chosen, o, record);
}

} // namespace platewright::cli
