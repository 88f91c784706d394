#include <algorithm>
#include <memory>

#include <fmt/format.h>

#include "base/clock.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find_plate.hpp"
#include "main/find_reference.hpp"
#include "main/find_wood.hpp"
#include "main/json.hpp"
#include "main/record_contents.hpp"
#include "main/sheet_contents.hpp"
#include "main/typed.hpp"
#include "report/chart_file.hpp"
#include "report/sheet_parts.hpp"
#include "screen/wishes_file.hpp"
#include "wording/language.hpp"

namespace platewright::cli {
namespace {

struct Options {
    std::string name, reference, paper = "a4", kind = "pdf", language, moisture;
    std::filesystem::path file, figures;
    bool instrument = false, wood = false;

    report::Paper size() const { return paper == "letter" ? report::Paper::letter : report::Paper::a4; }
};

struct Written {
    std::filesystem::path file;
    int pages = 0;
    std::vector<std::filesystem::path> figures;
};

/// The session others are compared with: the one asked for, else nothing.
base::Result<std::optional<ledger::SessionHistory>> reference_of(const ledger::Store& store, const std::string& name) {
    if (name.empty())
        return std::optional<ledger::SessionHistory>();
    const auto session = reference_session(store, name);
    if (!session)
        return session.fault();
    const auto plate = store.plate_of_session(*session);
    if (const auto history = plate ? store.history(*plate) : std::nullopt)
        for (const ledger::SessionHistory& one : history->sessions)
            if (one.session.id == *session)
                return std::optional(one);
    return std::optional<ledger::SessionHistory>();
}

report::PlateSheet plate_sheet(ledger::PlateHistory history, const std::optional<ledger::SessionHistory>& reference,
                               const std::string& name) {
    std::optional<trends::Comparison> comparison;
    if (reference && !history.sessions.empty())
        comparison = trends::compare(history.sessions.back(), *reference);
    return sheet_of(std::move(history), std::move(comparison), name);
}

void write_figures(const report::PlateSheet& sheet, const Options& o, Written& written) {
    std::error_code ignored; // a folder that can't be made is said by the first figure
    std::filesystem::create_directories(o.figures, ignored);
    const auto path = [&](const char* what) {
        written.figures.push_back(o.figures / fmt::format("{} {}.{}", file_name_of(sheet.history.plate.label), what, o.kind));
        return written.figures.back();
    };
    const auto kind = *report::picture_kind("figure." + o.kind);
    if (!sheet.history.sessions.empty())
        report::write_chart(report::drift_chart_of(sheet), path("drift"), kind);
    if (sheet.map)
        report::write_chart(sheet.map_picture, path("thickness"), kind);
}

/// Where it is written unless told: the thing's name, here.
std::filesystem::path target(const Options& o, const std::string& label) {
    return o.file.empty() ? std::filesystem::path(file_name_of(label) + ".pdf") : o.file;
}

base::Result<Written> write_wood(const ledger::Store& store, const Options& o) {
    auto wood = find_wood(store, o.name);
    if (!wood)
        return wood.fault();
    std::optional<WoodNamed> beside;
    if (!o.reference.empty()) {
        auto other = find_wood(store, o.reference);
        if (!other)
            return other.fault();
        beside = WoodNamed{(*other).wood.label, *std::move(other)};
    }
    std::vector<std::string> plates;
    for (const ledger::InstrumentSummary& one : store.overview())
        for (const ledger::PlateSummary& plate : one.plates)
            if (std::ranges::count((*wood).plates, plate.plate.id) > 0)
                plates.push_back(plate.plate.label);
    const std::optional<double> moisture = typed_number(o.moisture, "--moisture", 0, 30, "%");
    const report::WoodSheet sheet = wood_sheet_of(*std::move(wood), std::move(plates), beside, moisture);
    Written written{target(o, sheet.history.wood.label), 0, {}};
    written.pages = report::write_sheet(sheet, written.file, o.size(), base::now());
    return written;
}

base::Result<Written> write_instrument(const ledger::Store& store, const Options& o) {
    const auto reference = reference_of(store, o.reference);
    if (!reference)
        return reference.fault();
    const auto instrument = find_instrument(store, o.name);
    if (!instrument)
        return instrument.fault();
    report::InstrumentSheet sheet{*instrument, {}};
    for (const ledger::InstrumentSummary& one : store.overview())
        if (one.instrument.id == instrument->id)
            for (const ledger::PlateSummary& plate : one.plates)
                sheet.plates.push_back(plate_sheet(store.history(plate.plate.id).value(), *reference, o.reference));
    Written written{target(o, sheet.instrument.label), 0, {}};
    if (!o.figures.empty())
        for (const report::PlateSheet& plate : sheet.plates)
            write_figures(plate, o, written);
    written.pages = report::write_sheet(sheet, written.file, o.size(), base::now());
    return written;
}

base::Result<Written> write_plate(const ledger::Store& store, const Options& o) {
    const auto reference = reference_of(store, o.reference);
    if (!reference)
        return reference.fault();
    const auto plate = find_plate(store, o.name);
    if (!plate)
        return plate.fault();
    const report::PlateSheet sheet = plate_sheet(store.history(plate->id).value(), *reference, o.reference);
    Written written{target(o, sheet.history.plate.label), 0, {}};
    if (!o.figures.empty())
        write_figures(sheet, o, written);
    written.pages = report::write_sheet(sheet, written.file, o.size(), base::now());
    return written;
}

/// A sheet is for people: in the window's language unless told. All else stays as scripts know it.
base::Result<Written> write(const ledger::Store& store, const Options& o) {
    const screen::Wishes wishes = screen::read_wishes();
    const wording::Language language = wording::language_from_code(o.language).value_or(screen::language_of(wishes));
    const wording::Speaking speaking(language, o.language.empty() ? screen::mark_of(wishes)
                                                                  : wishes.mark.value_or(wording::usual_mark(language)));
    return o.wood ? write_wood(store, o) : o.instrument ? write_instrument(store, o) : write_plate(store, o);
}

ExitCode sheet(const Options& o, const Common& common) {
    const auto store = open_to_read(common.ledger_folder());
    const auto written = store ? write(*store, o) : base::Result<Written>(store.fault());
    if (!written) {
        complain(written.fault().what);
        return k_nothing_found;
    }
    if (common.json) {
        Json figures = Json::array();
        for (const auto& figure : written->figures)
            figures.push_back(figure.string());
        print({{"schema", "platewright.sheet/1"}, {"file", written->file.string()}, {"pages", written->pages},
               {"figures", figures}}, true);
        return k_done;
    }
    say(fmt::format("The sheet is in {} ({} {})", written->file.string(), written->pages, written->pages == 1 ? "page" : "pages"));
    for (const auto& figure : written->figures)
        say(fmt::format("A figure is in {}", figure.string()));
    return k_done;
}

} // namespace

void add_sheet(CLI::App& app, Common& common, Chosen& chosen) {
    auto* command = app.add_subcommand("sheet", "The bench sheet of a plate, an instrument's record of making, or the sheet of a wood, to print");
    command->footer("  platewright sheet \"Wren back\" --reference \"Heron back\"\n"
                    "  platewright sheet Wren --instrument --to wren.pdf --paper letter\n"
                    "  platewright sheet \"Spruce 7\" --wood --reference \"Heron top\"\n"
                    "  platewright sheet \"Wren back\" --figures pictures/ --as svg --language de");
    auto o = std::make_shared<Options>();
    command->add_option("PLATE", o->name, "The plate, by name or number; with --instrument the instrument, with --wood the wood")
        ->required();
    auto* instrument = command->add_flag("--instrument", o->instrument,
                                         "The record of making of an instrument: its plates, and all their sessions");
    auto* wood = command->add_flag("--wood", o->wood, "The sheet of a wood in stock: its constants and its tests")->excludes(instrument);
    command->add_option("--moisture", o->moisture, "With --wood: all figures at this moisture of the wood, in % [as each was]")
        ->type_name("PCT")->needs(wood);
    command->add_option("--to", o->file, "The PDF file [the plate's name, here]")->type_name("FILE");
    command->add_option("--paper", o->paper, "a4 or letter")->check(CLI::IsMember({"a4", "letter"}))->capture_default_str();
    command->add_option("--reference", o->reference, "Set the newest session beside a reference, or another plate's newest; with --wood beside another wood")->type_name("NAME");
    command->add_option("--language", o->language, "What the sheet is written in: en, de or it [the window's]")->check(CLI::IsMember({"en", "de", "it"}));
    command->add_option("--figures", o->figures, "The figures alone, too, into this folder")->type_name("FOLDER")->excludes(wood);
    command->add_option("--as", o->kind, "What the figures are: png, svg or pdf")->check(CLI::IsMember({"png", "svg", "pdf"}));
    add_ledger(*command, common);
    add_json(*command, common);
    command->callback([&chosen, &common, o] { chosen = [&common, o] { return sheet(*o, common); }; });
}

} // namespace platewright::cli
