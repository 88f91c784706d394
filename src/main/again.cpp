#include <algorithm>
#include <cmath>
#include <memory>

#include <fmt/format.h>

#include "base/failure.hpp"
#include "base/text.hpp"
#include "bench/again.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find_plate.hpp"
#include "main/json.hpp"
#include "main/progress.hpp"

namespace platewright::cli {
namespace {

struct Options {
    std::string plate;
    bool keep = false;
    modes::FitParams fit;
};

std::string version_of(const ledger::SessionHistory& session) {
    return session.modes.empty() ? "" : session.modes.front().analysis_version;
}

Json session_json(const bench::SessionAgain& session) {
    Json modes = Json::array();
    for (const trends::ComparedMode& mode : session.difference.modes)
        modes.push_back({{"number", or_null(mode.number)},
                         {"before", mode.reference ? to_json(*mode.reference) : Json(nullptr)},
                         {"now", mode.plate ? to_json(*mode.plate) : Json(nullptr)}});
    return {{"session", to_json(session.before.session)}, {"version_before", version_of(session.before)},
            {"version_now", modes::k_analysis_version}, {"modes", modes}, {"lost", session.lost},
            {"not_rung", session.not_rung}};
}

std::string hz_text(const std::optional<modes::Mode>& mode) { return mode ? base::fixed(mode->frequency_hz, 2) : "–"; }
std::string q_text(const std::optional<modes::Mode>& mode) { return mode ? base::fixed(mode->q, 1) : "–"; }

void say_session(const bench::SessionAgain& session) {
    say(fmt::format("{}, analysis {} before, {} now", base::local_date(session.before.session.begun),
                    version_of(session.before).empty() ? "none" : version_of(session.before), modes::k_analysis_version));
    Table table({"mode", "Hz before", "Hz now", "difference", "Q before", "Q now"});
    int others = 0, alike = 0;
    for (const trends::ComparedMode& mode : session.difference.modes) {
        const bool same = mode.plate && mode.reference &&
                          std::abs(mode.plate->frequency_hz - mode.reference->frequency_hz) < 0.005;
        if (!mode.number) {
            ++others;
            alike += same ? 1 : 0;
        }
        if (mode.number || !same)
            table.row({mode.number ? modes::mode_text(*mode.number) : "–", hz_text(mode.reference), hz_text(mode.plate),
                       mode.plate && mode.reference
                           ? base::signed_fixed(mode.plate->frequency_hz - mode.reference->frequency_hz, 2) : "–",
                       q_text(mode.reference), q_text(mode.plate)});
    }
    if (!table.empty())
        put(table.text());
    if (others > 0)
        say(fmt::format("  {} of {} modes without a name are where they were.", alike, others));
    if (session.lost > 0)
        say(fmt::format("  {} taps have no whole recording; what was found in them earlier counts.", session.lost));
    if (session.not_rung > 0)
        say(fmt::format("  In {} taps no ring is found now; they are left out of the modes.", session.not_rung));
}

std::vector<bench::SessionAgain> analysed(const ledger::Store& store, ledger::Id plate, const Options& o) {
    ProgressLine line("analysing");
    auto sessions = bench::analyse_again(store, store.history(plate).value(), o.fit, line.callback());
    line.clear();
    return sessions;
}

void keep(const std::filesystem::path& folder, const std::vector<bench::SessionAgain>& sessions) {
    ledger::Store store(folder);
    if (store.read_only())
        throw base::Failure(fmt::format("The ledger “{}” can only be read now, because {}. Nothing was stored.",
                                        store.folder().string(), store.why_read_only()));
    bench::keep_again(store, sessions);
}

ExitCode again(const Options& o, const Common& common) {
    const auto store = open_to_read(common.ledger_folder());
    std::vector<ledger::PlateRecord> plates;
    if (store && o.plate.empty())
        for (const ledger::InstrumentSummary& instrument : store->overview())
            for (const ledger::PlateSummary& plate : instrument.plates)
                plates.push_back(plate.plate);
    if (store && !o.plate.empty()) {
        const auto plate = find_plate(*store, o.plate);
        if (!plate) {
            complain(plate.fault().what);
            return k_nothing_found;
        }
        plates.push_back(*plate);
    }
    if (!store) {
        complain(store.fault().what);
        return k_nothing_found;
    }
    Json list = Json::array();
    for (const ledger::PlateRecord& plate : plates) {
        const auto sessions = analysed(*store, plate.id, o);
        if (o.keep)
            keep(common.ledger_folder(), sessions);
        if (common.json) {
            Json anew = Json::array();
            for (const bench::SessionAgain& session : sessions)
                anew.push_back(session_json(session));
            list.push_back({{"plate", {{"id", plate.id}, {"label", plate.label}}}, {"sessions", anew}});
            continue;
        }
        say(plate.label);
        for (const bench::SessionAgain& session : sessions)
            say_session(session);
    }
    if (common.json)
        print({{"schema", "platewright.again/1"}, {"kept", o.keep}, {"plates", list}}, true);
    else
        say(o.keep ? "Kept beside what earlier analyses found; what was found now is shown from here on."
                   : "Nothing was changed; --keep keeps what was found now, beside what was found earlier.");
    return k_done;
}

} // namespace

void add_again(CLI::App& app, Common& common, Chosen& chosen) {
    auto* command = app.add_subcommand("again", "Analyse kept recordings anew, and show what was found before and now");
    command->footer("Worth it after a new version of the program, or where a bundle brought more taps.\n\n"
                    "  platewright again \"Wren back\"\n"
                    "  platewright again --keep");
    auto o = std::make_shared<Options>();
    command->add_option("PLATE", o->plate, "The plate, by name or number [all]");
    command->add_flag("--keep", o->keep, "Keep what was found now, beside what was found earlier");
    add_band(*command, o->fit);
    add_ledger(*command, common);
    add_json(*command, common);
    command->callback([&chosen, &common, o] { chosen = [&common, o] { return again(*o, common); }; });
}

} // namespace platewright::cli
