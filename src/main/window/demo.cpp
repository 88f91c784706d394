#include "base/clock.hpp"
#include "base/failure.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/json.hpp"
#include "main/run_self.hpp"
#include "main/window/demo_workshop.hpp"
#include "main/window/open_window.hpp"

#include <algorithm>
#include <cstdlib>
#include <fmt/format.h>
#include <memory>

namespace platewright::cli {
namespace {

namespace fs = std::filesystem;

struct DemoOptions {
    std::string fill;
    fs::path charts;
    bool anew = false, terminal = false, walk = false;
};

bool has_display() {
    return std::ranges::any_of(std::array{"DISPLAY", "WAYLAND_DISPLAY"}, [](const char* name) {
        const char* value = std::getenv(name);
        return value != nullptr && *value != '\0';
    });
}

/// The demo as it was left, out of the way of one made anew.
void lay_aside(const fs::path& folder) {
    std::string moment = base::local_date_time(base::now());
    std::replace(moment.begin(), moment.end(), ':', '.');
    fs::path aside = folder;
    aside += " until " + moment;
    for (int number = 2; fs::exists(aside); ++number)
        aside = fs::path(folder) += fmt::format(" until {} ({})", moment, number);
    fs::rename(folder, aside);
    complain(fmt::format("The demo workshop as it was left lies in “{}”.", aside.string()));
}

/// Why this folder can't be the demo's; nothing where it can.
std::optional<std::string> refusal(const fs::path& folder) {
    std::error_code ignored;
    if (!fs::exists(folder, ignored) ||
        (fs::is_directory(folder, ignored) && fs::is_empty(folder, ignored)))
        return std::nullopt;
    if (!fs::exists(folder / "ledger.sqlite", ignored))
        return fmt::format(
            "“{}” is there already and holds something else, so the demo workshop is not "
            "put there. Name another folder with --ledger; nothing was changed.",
            folder.string());
    if (folder != DemoWorkshop::usual_folder() && !DemoWorkshop::is_demo(folder))
        return fmt::format(
            "“{}” is a ledger of your own, so the demo workshop is not put there. Name "
            "another folder with --ledger; nothing was changed.",
            folder.string());
    return std::nullopt;
}

/// The main job without a window: the newest session's taps as they come, then what they tell.
void in_terminal(const DemoWorkshop& workshop, const DemoOptions& o, const fs::path& folder,
                 bool made) {
    const auto show = [](const std::vector<std::string>& words) {
        if (const int code = run_self_aloud(words); code != 0)
            throw base::Failure("The demo workshop could not be shown; its ledger is there.",
                                fmt::format("platewright {} ended with {}", words.front(), code));
    };
    if (made) {
        say("There is no display, so the same goes on here: the taps of the ninth session as they "
            "come.");
        show({"listen", "--replay", workshop.newest().string()});
        workshop.enter_newest(folder);
    }
    std::error_code ignored; // a folder that can't be made is said by the first chart
    fs::create_directories(o.charts, ignored);
    const fs::path beside = o.charts / "demo-beside.png", drift = o.charts / "demo-drift.png";
    show({"against", DemoWorkshop::k_plate, DemoWorkshop::k_reference, "--ledger", folder.string(),
          "--chart", beside.string()});
    show({"drift", DemoWorkshop::k_plate, "--ledger", folder.string(), "--chart", drift.string()});
    say(fmt::format("Its chart: {}; beside the reference: {}", fs::absolute(drift).string(),
                    fs::absolute(beside).string()));
}

ExitCode demo(DemoOptions o, const Common& common) {
    const auto workshop = DemoWorkshop::open();
    if (!workshop)
        return refuse(workshop.fault().what, k_failed);
    // Never what $PLATEWRIGHT_LEDGER names: that is the maker's own.
    const fs::path folder = common.ledger.empty() ? DemoWorkshop::usual_folder() : common.ledger;
    if (const auto why = refusal(folder)) {
        complain(*why);
        return k_unusable;
    }
    const bool fills_only = !o.fill.empty() || common.json;
    const bool window = !fills_only && !o.terminal && has_display();
    if (o.anew && fs::exists(folder / "ledger.sqlite"))
        lay_aside(folder);
    const bool make = !fs::exists(folder / "ledger.sqlite");
    if (make) {
        if (!common.json)
            say(fmt::format("Entering the demo workshop (invented) into a ledger of its own, {} …",
                            folder.string()));
        const Newest newest = fills_only ? (o.fill == "begun" ? Newest::begun : Newest::entered)
                              : window && !o.walk ? Newest::begun
                                                  : Newest::left_out; // the walk begins it
        (*workshop).fill(folder, newest, [&](const std::string& line) {
            if (!common.json)
                say("  " + line);
        });
    }
    if (common.json)
        print({{"schema", "platewright.demo/1"}, {"ledger", folder.string()}, {"made", make}},
              true);
    if (fills_only)
        return k_done;
    if (!window) {
        in_terminal(*workshop, o, folder, make);
        return k_done;
    }
    if (make && !o.walk)
        say("The window opens on the Wren back; its ninth session's taps arrive as if live.");
    Common own = common;
    own.ledger = folder;
    WindowOptions options;
    options.recorded = (*workshop).strikes();
    options.walk = o.walk ? screen::FirstWalk::begun
                   : make ? screen::FirstWalk::offered
                          : screen::FirstWalk::none;
    if (make && !o.walk)
        options.replay = (*workshop).newest();
    return open_window(options, own);
}

} // namespace

void add_demo(CLI::App& app, Common& common, Chosen& chosen) {
    auto* command =
        app.add_subcommand("demo", "The invented demo workshop, in a ledger of its own");
    command->footer("With a display the window opens on it, and the newest session's taps arrive "
                    "as if live; without one the\n"
                    "same goes on in the terminal. A strip in the window offers a first walk: one "
                    "session and one decision.\n"
                    "The first time it is entered from its "
                    "recordings, half a minute. It lies in the\n"
                    "folder “Platewright demo (invented)” in your home, or where --ledger says. "
                    "Your own ledger is not touched.\n\n"
                    "  platewright demo\n"
                    "  platewright demo --terminal --charts /tmp\n"
                    "  platewright demo --anew");
    auto o = std::make_shared<DemoOptions>();
    command->add_flag("--anew", o->anew,
                      "Make it again; what was changed in it is laid aside under another name");
    command->add_flag("--walk", o->walk,
                      "In the window: begin the first walk at once, one session and one decision "
                      "in five minutes");
    command->add_flag("--terminal", o->terminal, "In the terminal, though there is a display");
    option(*command, "--charts", o->charts, "Where the terminal's two charts go [here]", "FOLDER");
    option(*command, "--fill", o->fill,
           "Make the ledger and open nothing: all, or begun (the newest session's taps "
           "are to come)",
           "all|begun")
        ->check(CLI::IsMember({"all", "begun"}));
    finish(*command, common, chosen, o, demo);
}

} // namespace platewright::cli
