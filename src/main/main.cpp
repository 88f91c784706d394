#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find.hpp"
#include "main/window/open_bundle.hpp"
#include "main/window/open_window.hpp"
#include "wording/failing.hpp"

#include <fmt/format.h>

namespace platewright::cli {
namespace {

constexpr const char* k_about = "Platewright listens to the taps of a violin-family plate and "
                                "keeps how its modes move as wood comes off.\n"
                                "Without a command it opens the window.";
constexpr const char* k_exits =
    "Exit codes: 0 done, 1 failed, 2 wrong usage, 3 unusable input, 4 nothing found.\n"
    "`platewright COMMAND --help` teaches each command; the manual page is platewright(1).";

/// A word that is no command: a bundle's file, or mistyped.
ExitCode open_named(const std::filesystem::path& name, const Common& common) {
    std::error_code ignored;
    if (!name.has_parent_path() && !name.has_extension() &&
        !std::filesystem::exists(name, ignored)) {
        complain(fmt::format("“{}” is no command and no bundle. Try --help.", name.string()));
        return k_wrong_usage;
    }
    return open_bundle(name, common);
}

ExitCode run(int argc, char** argv) {
    CLI::App app{k_about, "platewright"};
    app.footer(k_exits);
    app.set_version_flag("--version", "platewright " PLATEWRIGHT_VERSION);
    app.require_subcommand(0, 1);
    Common common;
    WindowOptions window;
    Chosen chosen;
    add_ledger(app, common);
    add_window_options(app, window);
    std::filesystem::path bundle; // of a double click
    app.add_option("BUNDLE", bundle,
                   "A bundle: what it holds is shown, and asked whether to take it in");
    add_read(app, common, chosen);
    add_listen(app, common, chosen);
    add_enter(app, common, chosen);
    add_drift(app, common, chosen);
    add_against(app, common, chosen);
    add_caliper(app, common, chosen);
    add_weigh(app, common, chosen);
    add_rehearse(app, common, chosen);
    add_plan(app, common, chosen);
    add_sheet(app, common, chosen);
    add_bundle(app, common, chosen);
    add_again(app, common, chosen);
    add_correct(app, common, chosen);
    add_bin(app, common, chosen);
    add_wood(app, common, chosen);
    add_check(app, common, chosen);
    add_restore(app, common, chosen);
    add_record(app, common, chosen);
    add_demo(app, common, chosen);
    add_complete(app, common, chosen);
    try {
        app.parse(argc, argv);
        if (!chosen && !bundle.empty())
            return open_named(bundle, common);
        window.is_band_said = app.count("--band") > 0;
        if (!chosen)
            return open_window(window, common);
        ExitCode code = k_done;
        try {
            code = chosen();
        } catch (const Refusal& refusal) {
            code = refuse(refusal.sentence, refusal.code);
        }
        lay_copy_of_written_aside();
        return code;
    } catch (const CLI::ParseError& error) {
        if (error.get_exit_code() == 0) { // help and version
            app.exit(error);
            return k_done;
        }
        std::string_view why = error.what();
        while (why.ends_with('.'))
            why.remove_suffix(1);
        complain(fmt::format("{}. Try --help.", why));
        return k_wrong_usage;
    }
}

} // namespace
} // namespace platewright::cli

int main(int argc, char** argv) {
    using namespace platewright;
    try {
        return cli::run(argc, argv);
    } catch (...) {
        cli::complain(wording::sentence_for_failure());
        return cli::k_failed;
    }
}
