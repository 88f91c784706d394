#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find.hpp"
#include "main/json.hpp"
#include "main/paper/sheet_order.hpp"

#include <fmt/format.h>
#include <memory>

namespace platewright::cli {
namespace {

struct SheetOptions : SheetOrder {
    std::string language;
};

base::Result<WrittenSheet> write(const ledger::Store& store, const SheetOptions& o) {
    const wording::Speaking speaking = speaking_for_people(o.language);
    return write_sheet(store, o);
}

ExitCode sheet(const SheetOptions& o, const Common& common) {
    const ledger::Store store = needed(open_to_read(common.ledger_folder()));
    const WrittenSheet written = needed(write(store, o));
    if (common.json) {
        print(
            {{"schema", "platewright.sheet/1"},
             {"file", written.file.string()},
             {"pages", written.pages},
             {"figures", array_of(written.figures, [](const auto& one) { return one.string(); })}});
        return k_done;
    }
    say(fmt::format("The sheet is in {} ({} {})", written.file.string(), written.pages,
                    written.pages == 1 ? "page" : "pages"));
    for (const auto& figure : written.figures)
        say(fmt::format("A figure is in {}", figure.string()));
    return k_done;
}

} // namespace

void add_sheet(CLI::App& app, Common& common, Chosen& chosen) {
    auto* command =
        app.add_subcommand("sheet", "The bench sheet of a plate, an instrument's record of making, "
                                    "or the sheet of a wood, to print");
    command->footer("  platewright sheet \"Wren back\" --reference \"Heron back\"\n"
                    "  platewright sheet Wren --instrument --to wren.pdf --paper letter\n"
                    "  platewright sheet \"Spruce 7\" --wood --reference \"Heron top\"\n"
                    "  platewright sheet \"Wren back\" --figures pictures/ --as svg --language de");
    auto o = std::make_shared<SheetOptions>();
    command
        ->add_option(
            "PLATE", o->name,
            "The plate, by name or number; with --instrument the instrument, with --wood the wood")
        ->required();
    auto* instrument = command->add_flag(
        "--instrument", o->instrument,
        "The record of making of an instrument: its plates, and all their sessions");
    auto* wood = command
                     ->add_flag("--wood", o->wood,
                                "The sheet of a wood in stock: its constants and its tests")
                     ->excludes(instrument);
    option(*command, "--moisture", o->moisture,
           "With --wood: all figures at this moisture of the wood, in % [as each was]", "PCT")
        ->needs(wood);
    option(*command, "--to", o->file, "The PDF file [the plate's name, here]", "FILE");
    choice(*command, "--paper", o->paper, "a4 or letter", {"a4", "letter"});
    option(*command, "--reference", o->reference,
           "Set the newest session beside a reference, or another plate's newest; with "
           "--wood beside another wood",
           "NAME");
    command
        ->add_option("--language", o->language,
                     "What the sheet is written in: en, de or it [the window's]")
        ->check(CLI::IsMember({"en", "de", "it"}));
    option(*command, "--figures", o->figures, "The figures alone, too, into this folder", "FOLDER")
        ->excludes(wood);
    command->add_option("--as", o->kind, "What the figures are: png, svg or pdf")
        ->check(CLI::IsMember({"png", "svg", "pdf"}));
    finish(*command, common, chosen, o, sheet);
}

} // namespace platewright::cli
