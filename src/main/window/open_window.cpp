#include "main/window/open_window.hpp"

#include "base/clock.hpp"
#include "base/failure.hpp"
#include "bench/engine.hpp"
#include "main/paper/sheet_contents.hpp"
#include "main/run_self.hpp"
#include "main/window/demo_workshop.hpp"
#include "main/window/window_errands.hpp"
#include "report/sheet/sheet_parts.hpp"
#include "report/tables/chart_file.hpp"
#include "screen/window.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cstdlib>
#include <fmt/format.h>

namespace platewright::cli {

void add_window_options(CLI::App& app, WindowOptions& options) {
    option(app, "--replay", options.replay,
           "In the window: a recording, as if live, in place of a microphone", "FILE");
    add_band(app, options.fit);
}

namespace {

/// Where a desktop keeps pictures (XDG_PICTURES_DIR where it is set), else the home folder.
std::filesystem::path picture_folder() {
    for (const char* name : {"XDG_PICTURES_DIR", "HOME"}) {
        const char* value = std::getenv(name);
        if (value == nullptr || *value == '\0')
            continue;
        std::error_code ignored;
        const std::filesystem::path folder(value), pictures = folder / "Pictures";
        return std::string_view(name) == "HOME" && std::filesystem::is_directory(pictures, ignored)
                   ? pictures
                   : folder;
    }
    return std::filesystem::current_path();
}

/// A chart as PNG for letters and SVG for print; never over an earlier one.
std::string keep_picture(const plot::Chart& chart, const std::string& name) {
    std::string moment = base::local_date_time(base::now());
    std::replace(moment.begin(), moment.end(), ':', '.');
    const std::filesystem::path folder = picture_folder();
    std::filesystem::path path;
    int number = 1;
    do {
        path = folder / fmt::format("{} {}{}", name, moment,
                                    number == 1 ? "" : fmt::format(" ({})", number));
        ++number;
    } while (std::filesystem::exists(path.string() + ".png") ||
             std::filesystem::exists(path.string() + ".svg"));
    try {
        report::write_chart(chart, path.string() + ".png", report::PictureKind::png);
        report::write_chart(chart, path.string() + ".svg", report::PictureKind::svg);
    } catch (const base::Failure& failure) {
        return failure.what();
    }
    return wording::say("Kept: {} and .svg", path.string() + ".png");
}

/// With the plate in its name and over it, so that it can stand by itself.
std::string keep_plates_picture(plot::Chart chart, const std::string& name,
                                const bench::Snapshot& now) {
    if (!now.plate)
        return keep_picture(chart, name);
    const ledger::PlateHistory& history = now.plate->trend_history();
    chart.title = report::title_of(history);
    return keep_picture(chart, file_name_of(history.plate.label) + " " + name);
}

} // namespace

ExitCode open_window(const WindowOptions& options, const Common& common) {
    bench::Engine engine({.ledger_folder = common.ledger_folder(),
                          .replay = options.replay,
                          .recorded = options.recorded,
                          .band = options.is_band_said
                                      ? modes::BandChoice{options.fit.low_hz, options.fit.high_hz}
                                      : modes::BandChoice{},
                          .woken = screen::wake_window});
    const screen::Bench bench{
        .snapshot = [&] { return engine.snapshot(); },
        .send = [&](bench::Command command) { engine.send(std::move(command)); },
        .outside = {.keep_picture =
                        [&](const plot::Chart& chart, const std::string& name) {
                            return keep_plates_picture(chart, name, *engine.snapshot());
                        },
                    .open_demo = open_demo,
                    .print = print_errand,
                    .take_out = bundle_out_errand,
                    .take_in = bundle_in_errand,
                    .enter = enter_errand,
                    .folder = document_folder,
                    .show_file = show_file},
        .walk = options.walk};
    return static_cast<ExitCode>(screen::run_window(bench));
}

std::string open_demo(bool walk) {
    if (!DemoWorkshop::open())
        return wording::say("The demo workshop's recordings are not beside this program: sh "
                            "third_party/setup demo in "
                            "the sources opens it.");
    const std::filesystem::path ledger = DemoWorkshop::usual_folder();
    std::error_code ignored;
    const bool made = std::filesystem::exists(ledger / "ledger.sqlite", ignored);
    try {
        start_self(walk ? std::vector<std::string>{"demo", "--walk"}
                        : std::vector<std::string>{"demo"});
    } catch (const base::Failure& failure) {
        return wording::say("The demo workshop could not be started: {}.", failure.detail());
    }
    return made
               ? wording::say("The demo workshop (invented) opens in a window of its own, from {}.",
                              ledger.string())
               : wording::say(
                     "The demo workshop (invented) is being entered into {}; its window opens "
                     "when it is done, in half "
                     "a minute.",
                     ledger.string());
}

} // namespace platewright::cli
