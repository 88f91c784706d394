#include "base/clock.hpp"
#include "base/failure.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find.hpp"
#include "main/json.hpp"
#include "main/ledger/bundle_text.hpp"
#include "main/ledger/ledger_tables.hpp"
#include "main/paper/uff_contents.hpp"

#include <fmt/format.h>
#include <fstream>
#include <memory>
#include <optional>
#include <stdlib.h>

namespace platewright::cli {
namespace {

struct BundleOptions {
    std::filesystem::path file;
    std::string plate, instrument, as = "csv";
    bool look = false, prefer_bundle = false, comma = false;
};

ledger::BundleRequest bundle_request(const ledger::Store& store, const BundleOptions& o) {
    std::optional<ledger::Id> plate, instrument;
    if (!o.plate.empty())
        plate = needed(find_plate(store, o.plate)).id;
    if (!o.instrument.empty())
        instrument = needed(find_instrument(store, o.instrument)).id;
    return bundle_of(store, instrument, plate);
}

ExitCode out(const BundleOptions& o, const Common& common) {
    const ledger::Store store = needed(open_to_read(common.ledger_folder()));
    const ledger::BundleRequest request = bundle_request(store, o);
    ProgressLine line("writing");
    const ledger::BundleReport done = store.write_bundle(o.file, request, line.callback());
    line.clear();
    if (common.json)
        print({{"schema", "platewright.bundle-out/1"},
               {"file", o.file.string()},
               {"instruments", done.instruments},
               {"plates", done.plates},
               {"sessions", done.sessions},
               {"taps", done.taps},
               {"recordings", done.recordings},
               {"left_out", done.left_out}});
    else
        say(fmt::format(
            "{} instruments, {} plates, {} sessions, {} taps and {} recordings are in {}",
            done.instruments, done.plates, done.sessions, done.taps, done.recordings,
            o.file.string()));
    if (!common.json && !done.left_out.empty())
        say(fmt::format("{} recordings are missing or damaged here and were left out: `platewright "
                        "check` lists them.",
                        done.left_out.size()));
    return done.left_out.empty() ? k_done : k_failed;
}

Json taken_json(const ledger::TakeReport& report, const BundleOptions& o) {
    Json kinds = Json::array(), differences = Json::array();
    for (const auto& kind : report.kinds)
        kinds.push_back({{"kind", kind.table},
                         {"added", kind.added},
                         {"same", kind.same},
                         {"different", kind.different},
                         {"in_the_bin", kind.in_the_bin}});
    for (const auto& d : report.differences)
        differences.push_back(
            {{"where", d.where}, {"what", d.what}, {"here", d.here}, {"there", d.there}});
    return {{"schema", "platewright.bundle-in/1"},
            {"file", o.file.string()},
            {"kept", !o.look},
            {"kinds", kinds},
            {"recordings",
             {{"added", report.recordings_added},
              {"there", report.recordings_there},
              {"mended", report.recordings_mended},
              {"lacking", report.recordings_lacking}}},
            {"sessions_with_more_taps", report.sessions_with_more_taps},
            {"differences", differences},
            {"taken_from", o.prefer_bundle ? "bundle" : "ledger"}};
}

/// A folder for a ledger that nobody keeps, gone when it is left.
class PassingFolder {
public:
    PassingFolder() {
        std::string name =
            (std::filesystem::temp_directory_path() / "platewright-look-XXXXXX").string();
        if (::mkdtemp(name.data()) == nullptr)
            throw base::Failure(fmt::format("No folder could be made in “{}”. Check the free space "
                                            "there; nothing was changed.",
                                            std::filesystem::temp_directory_path().string()));
        path_ = name;
    }
    ~PassingFolder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    PassingFolder(const PassingFolder&) = delete;
    PassingFolder& operator=(const PassingFolder&) = delete;
    const std::filesystem::path& path() const { return path_; }

private:
    std::filesystem::path path_;
};

ExitCode in(const BundleOptions& o, const Common& common) {
    needed(ledger::ZipReader::open(o.file), k_unusable); // before a ledger is made for it
    const std::filesystem::path folder = common.ledger_folder();
    std::optional<PassingFolder> passing; // a look makes no ledger where there is none
    if (o.look && !std::filesystem::exists(folder))
        passing.emplace();
    ledger::Store store = passing ? ledger::Store(passing->path()) : open_to_write(folder);
    ProgressLine line("taking in");
    const auto taken = store.take_bundle(
        o.file, {.prefer_bundle = o.prefer_bundle, .only_look = o.look}, line.callback());
    line.clear();
    const ledger::TakeReport report = needed(taken, k_unusable);
    if (common.json)
        print(taken_json(report, o));
    else
        say_take_report(report, {.prefer_bundle = o.prefer_bundle, .only_look = o.look});
    return k_done;
}

/// Written beside and renamed: an earlier table of this name stays whole until this one is there.
void write_table(const std::filesystem::path& path, const std::string& text) {
    std::filesystem::path beside = path;
    beside += ".new";
    std::ofstream file(beside, std::ios::binary | std::ios::trunc);
    file << text;
    file.close();
    std::error_code error;
    if (file)
        std::filesystem::rename(beside, path, error);
    if (file && !error)
        return;
    std::error_code ignored;
    std::filesystem::remove(beside, ignored);
    throw base::Failure(fmt::format("“{}” could not be written. Check the folder and the free "
                                    "space; what stood there before is as "
                                    "it was, and the ledger is not touched.",
                                    path.string()));
}

ExitCode universal_files(const ledger::Store& store, const BundleOptions& o, const Common& common) {
    ProgressLine line("computing");
    const std::vector<UffText> texts = uff_texts(store, line.callback());
    line.clear();
    Json files = Json::array();
    for (const UffText& text : texts) {
        const std::filesystem::path path = o.file / text.name;
        write_table(path, text.text);
        files.push_back({{"file", path.string()},
                         {"spectra", text.spectra},
                         {"shapes", text.shapes},
                         {"no_shapes", text.no_shapes}});
        if (!common.json)
            say(fmt::format("{}: {} spectra, {} shapes of the model{}", path.string(), text.spectra,
                            text.shapes,
                            text.no_shapes.empty() ? "" : " (" + text.no_shapes + ")"));
    }
    if (common.json)
        print({{"schema", "platewright.bundle-universal/1"}, {"files", files}});
    return k_done;
}

ExitCode tables(const BundleOptions& o, const Common& common) {
    const ledger::Store store = needed(open_to_read(common.ledger_folder()));
    std::error_code error;
    std::filesystem::create_directories(o.file, error);
    if (o.as == "uff")
        return universal_files(store, o, common);
    Json files = Json::array();
    for (const report::CsvTable& table : ledger_tables(
             store, {}, {}, o.comma ? report::CsvStyle::comma : report::CsvStyle::point)) {
        const std::filesystem::path path = o.file / table.name;
        write_table(path, table.text);
        files.push_back(path.string());
        if (!common.json)
            say(path.string());
    }
    if (common.json)
        print({{"schema", "platewright.bundle-tables/1"}, {"files", files}});
    return k_done;
}

ExitCode undo(const BundleOptions&, const Common& common) {
    needed(open_to_read(common.ledger_folder()));
    const ledger::UndoneImport undone = needed(open_to_write(common.ledger_folder()).undo_import());
    if (common.json) {
        print({{"schema", "platewright.bundle-undo/1"},
               {"file", undone.file},
               {"taken_in", undone.taken_in},
               {"binned", undone.binned},
               {"removed", undone.removed},
               {"put_back", undone.put_back},
               {"changed_since", undone.changed_since}});
        return k_done;
    }
    say(fmt::format("“{}”, taken in on {}, is out again: {} things are in the bin, {} were "
                    "removed, {} stand as before.",
                    undone.file, base::local_date_time(undone.taken_in), undone.binned,
                    undone.removed, undone.put_back));
    if (undone.changed_since > 0)
        say(fmt::format("{} words that were changed since stay as they are.",
                        undone.changed_since));
    return k_done;
}

} // namespace

void add_bundle(CLI::App& app, Common& common, Chosen& chosen) {
    auto* bundle = app.add_subcommand(
        "bundle", "One file with a plate, an instrument or all, recordings too; out, or in");
    bundle->footer(
        "A bundle is a zip file with JSON, CSV and FLAC, described in docs/bundle-format.md.\n\n"
        "  platewright bundle out wren.platewright --instrument Wren\n"
        "  platewright bundle in wren.platewright --look\n"
        "  platewright bundle undo\n"
        "  platewright bundle tables figures/ --comma\n"
        "  platewright bundle tables lab/ --as uff");
    bundle->require_subcommand(1);
    auto o = std::make_shared<BundleOptions>();

    auto* writing = bundle->add_subcommand("out", "Write a bundle");
    writing->add_option("FILE", o->file, "The zip file to be written")->required();
    auto* plate =
        option(*writing, "--plate", o->plate, "Only this plate, by name or number", "PLATE");
    option(*writing, "--instrument", o->instrument, "Only this instrument, by name or number",
           "NAME")
        ->excludes(plate);
    finish(*writing, common, chosen, o, out);

    auto* taking = bundle->add_subcommand(
        "in", "Take a bundle into the ledger: what is there already is recognised");
    taking->add_option("FILE", o->file, "The bundle")->required();
    taking->add_flag("--look", o->look, "Say what would come of it, and change nothing");
    taking->add_flag("--prefer-bundle", o->prefer_bundle,
                     "Where the two differ, take the bundle's word; a copy is laid aside before");
    finish(*taking, common, chosen, o, in);

    auto* undoing =
        bundle->add_subcommand("undo", "Take out again what the bundle taken in last brought");
    finish(*undoing, common, chosen, o, undo);

    auto* sheets = bundle->add_subcommand(
        "tables", "The ledger's figures as CSV tables for a spreadsheet, or as Universal Files");
    sheets->add_option("FOLDER", o->file, "Where to write them")->required();
    sheets->add_flag(
        "--comma", o->comma,
        "Decimal commas, semicolons between: as spreadsheets of many countries want it");
    choice(*sheets, "--as", o->as,
           "csv, or uff: Universal Files of spectra and of the model's shapes, for a laboratory",
           {"csv", "uff"});
    finish(*sheets, common, chosen, o, tables);
}

} // namespace platewright::cli
