#include "main/window/window_errands.hpp"

#include "base/clock.hpp"
#include "base/failure.hpp"
#include "bench/settings.hpp"
#include "main/ledger/bundle_text.hpp"
#include "main/ledger/ledger_tables.hpp"
#include "main/paper/sheet_contents.hpp"
#include "main/paper/sheet_order.hpp"
#include "main/run_self.hpp"
#include "main/strikes/enter_recordings.hpp"
#include "trends/plate_name.hpp"
#include "wording/say.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <array>
#include <chrono>
#include <cstdlib>
#include <fstream>

namespace platewright::cli {
namespace {

namespace fs = std::filesystem;
using bench::ErrandOutcome;

/// In the folder, under a name that no file has yet; the folder is made where it is not there.
fs::path fresh_file(const fs::path& folder, const std::string& label, const std::string& ending) {
    std::error_code ignored; // a folder that can't be made is said by what is written into it
    fs::create_directories(folder, ignored);
    const std::string name = file_name_of(label) + " " + base::local_date(base::now());
    fs::path file = folder / (name + ending);
    for (int number = 2; fs::exists(file, ignored); ++number)
        file = folder / (name + " (" + std::to_string(number) + ")" + ending);
    return file;
}

std::string label_of(const ledger::Store& store, const screen::PrintOrder& order) {
    for (const ledger::InstrumentSummary& one : store.overview()) {
        if ((order.what == screen::PrintOrder::What::instrument ||
             order.what == screen::PrintOrder::What::page) &&
            one.instrument.id == order.id)
            return one.instrument.label;
        for (const ledger::PlateSummary& plate : one.plates)
            if (order.what == screen::PrintOrder::What::plate && plate.plate.id == order.id)
                return trends::plate_name(one.instrument, plate.plate);
    }
    for (const ledger::WoodHistory& one : store.wood_stock())
        if (order.what == screen::PrintOrder::What::wood && one.wood.id == order.id)
            return one.wood.label;
    return {};
}

std::string reference_label(const ledger::Store& store, ledger::Id session) {
    for (const ledger::ReferenceRecord& reference : store.references())
        if (reference.session == session)
            return reference.label;
    const auto history = store.history_with(session);
    return history ? history->plate.label : std::string();
}

/// The page of an instrument, with one tap of each session to be heard.
ErrandOutcome write_page(const ledger::Store& store, const screen::PrintOrder& order) {
    for (const ledger::InstrumentSummary& one : store.overview()) {
        if (one.instrument.id != order.id)
            continue;
        const fs::path file = fresh_file(order.folder, one.instrument.label, ".html");
        report::write_page(record_of(store, one.instrument, 1), file, base::now());
        return {.sentence = wording::say("The page is in {}", file.string()), .file = file};
    }
    return {.good = false,
            .sentence = wording::say(
                "The ledger holds nothing of that number any more. Nothing was changed.")};
}

ErrandOutcome print_sheet(const ledger::Store& store, const screen::PrintOrder& order) {
    SheetOrder sheet;
    sheet.id = order.id;
    sheet.instrument = order.what == screen::PrintOrder::What::instrument;
    sheet.wood = order.what == screen::PrintOrder::What::wood;
    sheet.paper = order.letter ? "letter" : "a4";
    if (order.reference != 0) {
        sheet.reference_session = order.reference;
        sheet.reference = reference_label(store, order.reference);
    }
    sheet.file = fresh_file(order.folder, label_of(store, order), ".pdf");
    if (order.figures && !sheet.wood)
        sheet.figures = order.folder;
    const auto written = write_sheet(store, sheet);
    if (!written)
        return {.good = false, .sentence = written.fault().what};
    ErrandOutcome outcome{.sentence =
                              wording::say_count(written->pages, "{} page is in {}",
                                                 "{} pages are in {}", written->file.string()),
                          .file = written->file};
    for (const fs::path& figure : written->figures)
        outcome.lines.push_back(figure.string());
    return outcome;
}

ErrandOutcome take_out_bundle(const ledger::Store& store, const screen::BundleOrder& order,
                              const ledger::Progress& progress) {
    const auto asked = [](ledger::Id id) {
        return id == 0 ? std::nullopt : std::optional<ledger::Id>(id);
    };
    const ledger::BundleRequest request =
        bundle_of(store, asked(order.instrument), asked(order.plate));
    const fs::path file = fresh_file(order.folder, order.name, ".platewright");
    const ledger::BundleReport done = store.write_bundle(file, request, progress);
    if (done.stopped)
        return {.good = false, .sentence = wording::say("Stopped: nothing was written.")};
    ErrandOutcome outcome{
        .sentence =
            wording::say("Plates: {}, sessions: {}, taps: {}, recordings: {}, in {}", done.plates,
                         done.sessions, done.taps, done.recordings, file.string()),
        .file = file.parent_path()};
    if (!done.left_out.empty())
        outcome.lines.push_back(wording::say_count(
            std::ssize(done.left_out), "{} recording is missing or damaged here and was left out.",
            "{} recordings are missing or damaged here and were left out."));
    return outcome;
}

std::vector<std::string> lines_of(const ledger::TakeReport& report, bool prefer_bundle) {
    constexpr std::array<wording::Phrase, 6> k_words{
        wording::Phrase("Instruments"), wording::Phrase("Plates"),
        wording::Phrase("Sessions"),    wording::Phrase("Taps"),
        wording::Phrase("Woods"),       wording::Phrase("What belongs to them")};
    std::vector<std::string> lines;
    const auto kinds = main_kinds(report);
    for (std::size_t i = 0; i < kinds.size(); ++i)
        if (const auto& kind = kinds[i];
            kind.added + kind.same + kind.different + kind.in_the_bin > 0)
            lines.push_back(wording::say("{}: {} new, {} here already, {} different",
                                         wording::say(k_words.at(i)), kind.added,
                                         kind.same + kind.in_the_bin, kind.different));
    lines.push_back(wording::say("{} recordings new, {} here already", report.recordings_added,
                                 report.recordings_there));
    for (std::string& line : recording_words(report))
        lines.push_back(std::move(line));
    if (const int things = in_the_bin(report); things > 0)
        lines.push_back(
            wording::say_count(things,
                               "{} thing of it lies in the bin here and stays there: it can be "
                               "put back under Bin.",
                               "{} things of it lie in the bin here and stay there: they can be "
                               "put back under Bin."));
    constexpr std::size_t k_shown = 20;
    for (std::size_t i = 0; i < report.differences.size() && i < k_shown; ++i) {
        const ledger::Difference& d = report.differences[i];
        lines.push_back(
            wording::say("{}, {}: here {}, in the bundle {}", d.where, d.what, d.here, d.there));
    }
    if (report.differences.size() > k_shown)
        lines.push_back(
            wording::say("and {} more differences", report.differences.size() - k_shown));
    if (!report.differences.empty())
        lines.emplace_back(prefer_bundle
                               ? wording::say("Where the two differ the bundle's word counts.")
                               : wording::say("Where the two differ this ledger's word counts."));
    return lines;
}

ErrandOutcome take_in_bundle(ledger::Store& store, const fs::path& file,
                             const ledger::TakeOptions& options, const ledger::Progress& progress) {
    const auto report = store.take_bundle(file, options, progress);
    if (!report)
        return {.good = false, .sentence = report.fault().what};
    if (report->stopped)
        return {.good = false, .sentence = wording::say("Stopped: nothing was changed.")};
    return {.sentence = options.only_look
                            ? wording::say("This would come of it; nothing was changed yet.")
                            : wording::say("It is taken in; it can be undone."),
            .lines = lines_of(*report, options.prefer_bundle),
            .needs_a_second_word = options.only_look};
}

/// When a recording was made, as far as its file tells.
base::Timestamp time_of(const fs::path& file) {
    std::error_code error;
    const auto written = fs::last_write_time(file, error);
    if (error)
        return base::now();
    const auto moment = std::chrono::file_clock::to_sys(written).time_since_epoch();
    return std::min(
        base::now(),
        base::Timestamp{std::chrono::duration_cast<std::chrono::milliseconds>(moment).count()});
}

ErrandOutcome enter_order(ledger::Store& store, const screen::EnterOrder& order,
                          const ledger::Progress& progress) {
    const auto history = store.history(order.plate);
    if (!history || order.files.empty())
        return {.good = false,
                .sentence =
                    wording::say("That plate is not in the ledger any more. Nothing was entered.")};
    RecordingsOrder recordings{.files = order.files,
                               .fit = usual_fit(*history, bench::remembered_band(store))};
    for (const fs::path& file : order.files) // before anything is kept
        if (const auto opened = open_to_hear(file, 0, recordings.fit); !opened)
            return {.good = false,
                    .sentence = wording::say("{} Nothing was entered.", opened.fault().what)};
    ledger::SessionRecord session;
    session.plate = order.plate;
    session.begun = order.begun.value_or(time_of(order.files.front()));
    session.stage = order.stage;
    session.mass_g = order.mass_g;
    bench::Workbench bench(store, recordings.fit);
    Made made(store);
    int taps = 0, good = 0;
    EnteredRecordings done =
        enter_recordings(store, bench, session, recordings, made, [&](const bench::HeardTap& tap) {
            ++taps;
            good += taps::counts(tap.tap.verdict) ? 1 : 0;
            if (!progress(0.0))
                throw base::Failure(wording::say("Stopped: the taps read so far are kept."));
        });
    if (!done.session)
        return {.good = false,
                .sentence = done.complaints.empty() ? std::string() : done.complaints.back()};
    return {.good = done.found,
            .sentence = wording::say("{} taps are in a session of {}; {} of them good.", taps,
                                     base::local_date_time(session.begun), good + done.recognised),
            .lines = std::move(done.complaints)};
}

/// "$HOME/Documents" out of a line of user-dirs.dirs (the freedesktop.org xdg-user-dirs tool writes
/// it).
std::optional<fs::path> documents_of_desktop(const fs::path& home) {
    const char* config = std::getenv("XDG_CONFIG_HOME");
    std::ifstream in((config != nullptr && *config != '\0' ? fs::path(config) : home / ".config") /
                     "user-dirs.dirs");
    const std::string_view key = "XDG_DOCUMENTS_DIR=\"";
    for (std::string line; std::getline(in, line);) {
        if (!line.starts_with(key) || !line.ends_with('"'))
            continue;
        std::string path = line.substr(key.size(), line.size() - key.size() - 1);
        if (path.starts_with("$HOME/"))
            path = (home / path.substr(6)).string();
        return fs::path(path);
    }
    return std::nullopt;
}

} // namespace

bench::Errand print_errand(const screen::PrintOrder& order) {
    return {.doing = wording::say("Writing the sheet"),
            .writes = false,
            .act = [order](ledger::Store& store, const ledger::Progress&) {
                return order.what == screen::PrintOrder::What::page ? write_page(store, order)
                                                                    : print_sheet(store, order);
            }};
}

bench::Errand bundle_out_errand(const screen::BundleOrder& order) {
    return {.doing = wording::say("Writing the bundle"),
            .writes = false,
            .act = [order](ledger::Store& store, const ledger::Progress& progress) {
                return take_out_bundle(store, order, progress);
            }};
}

bench::Errand bundle_in_errand(const fs::path& file, bool only_look, bool prefer_bundle) {
    return {.doing = only_look ? wording::say("Looking into the bundle")
                               : wording::say("Taking the bundle in"),
            .writes = true, // a look is the same in one transaction that is not kept
            .act = [=](ledger::Store& store, const ledger::Progress& progress) {
                return take_in_bundle(store, file,
                                      {.prefer_bundle = prefer_bundle, .only_look = only_look},
                                      progress);
            }};
}

bench::Errand enter_errand(const screen::EnterOrder& order) {
    return {.doing = wording::say("Reading the recordings"),
            .writes = true,
            .act = [order](ledger::Store& store, const ledger::Progress& progress) {
                return enter_order(store, order, progress);
            }};
}

fs::path document_folder() {
    std::error_code ignored;
    if (const char* said = std::getenv("XDG_DOCUMENTS_DIR"); said != nullptr && *said != '\0')
        return said;
    const char* value = std::getenv("HOME");
    if (value == nullptr || *value == '\0')
        return fs::current_path(ignored);
    const fs::path home(value);
    if (const auto told = documents_of_desktop(home); told && fs::is_directory(*told, ignored))
        return *told;
    const fs::path usual = home / "Documents";
    return fs::is_directory(usual, ignored) ? usual : home;
}

std::string show_file(const fs::path& file) {
    try {
        start_program({"xdg-open", file.string()});
        return {};
    } catch (const base::Failure&) {
        return wording::say("No program of the desktop shows files here: open {} yourself.",
                            file.string());
    }
}

} // namespace platewright::cli
