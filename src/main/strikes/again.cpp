#include "bench/sound/again.hpp"

#include "base/text.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find.hpp"
#include "main/json.hpp"
#include "main/wood/wood_text.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <memory>

namespace platewright::cli {
namespace {

struct AgainOptions {
    std::string name;
    bool keep = false, wood = false;
    modes::FitParams fit;
};

std::string version_of(const ledger::SessionHistory& session) {
    return session.modes.empty() ? "" : session.modes.front().analysis_version;
}

Json session_json(const bench::SessionAgain& session) {
    const auto mode_json = [](const trends::ComparedMode& mode) {
        return Json{{"number", mode.number}, {"before", mode.reference}, {"now", mode.plate}};
    };
    return {{"session", session.before.session},
            {"version_before", version_of(session.before)},
            {"version_now", modes::k_analysis_version},
            {"modes", array_of(session.difference.modes, mode_json)},
            {"lost", session.lost},
            {"not_rung", session.not_rung}};
}

/// A motion as it was kept and as it is found now.
struct BothMotions {
    ledger::WoodMotion motion{};
    std::optional<ledger::WoodModeRecord> before, now;
};

std::vector<BothMotions> motions_of(const bench::WoodTestAgain& test) {
    const auto find = [](const std::vector<ledger::WoodModeRecord>& modes,
                         ledger::WoodMotion motion) {
        const auto found = std::ranges::find(modes, motion, &ledger::WoodModeRecord::motion);
        return found == modes.end() ? std::nullopt : std::optional(*found);
    };
    std::vector<BothMotions> all;
    for (const ledger::WoodMotion motion : ledger::k_wood_motions)
        if (BothMotions both{motion, find(test.before.modes, motion), find(test.after, motion)};
            both.before || both.now)
            all.push_back(std::move(both));
    return all;
}

Json test_again_json(const bench::WoodTestAgain& test) {
    const auto both_json = [](const BothMotions& both) {
        return Json{{"motion", both.motion}, {"before", both.before}, {"now", both.now}};
    };
    return {{"id", test.before.record.id},
            {"at", test.before.record.at},
            {"motions", array_of(motions_of(test), both_json)},
            {"doubts", test.doubts},
            {"lost", test.lost},
            {"not_rung", test.not_rung}};
}

std::string hz_text(const std::optional<modes::Mode>& mode) {
    return mode ? base::fixed(mode->frequency_hz, 2) : "–";
}
std::string q_text(const std::optional<modes::Mode>& mode) {
    return mode ? base::fixed(mode->q, 1) : "–";
}

void say_session(const bench::SessionAgain& session) {
    say(fmt::format("{}, analysis {} before, {} now",
                    base::local_date(session.before.session.begun),
                    version_of(session.before).empty() ? "none" : version_of(session.before),
                    modes::k_analysis_version));
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
            table.row({mode.number ? modes::mode_text(*mode.number) : "–", hz_text(mode.reference),
                       hz_text(mode.plate),
                       mode.plate && mode.reference
                           ? base::signed_fixed(
                                 mode.plate->frequency_hz - mode.reference->frequency_hz, 2)
                           : "–",
                       q_text(mode.reference), q_text(mode.plate)});
    }
    if (!table.empty())
        put(table.text());
    if (others > 0)
        say(fmt::format("  {} of {} modes without a name are where they were.", alike, others));
    if (session.lost > 0)
        say(fmt::format("  {} taps have no whole recording; what was found in them earlier counts.",
                        session.lost));
    if (session.not_rung > 0)
        say(fmt::format("  In {} taps no ring is found now; they are left out of the modes.",
                        session.not_rung));
}

void say_test(const bench::WoodTestAgain& test) {
    say(fmt::format("{}, {}", base::local_date(test.before.record.at),
                    ledger::to_text(test.before.record.piece)));
    Table table({"motion", "Hz before", "Hz now", "difference", "Q before", "Q now"});
    for (const BothMotions& both : motions_of(test))
        table.row({std::string(ledger::to_text(both.motion)),
                   both.before ? base::fixed(both.before->frequency_hz, 2) : "–",
                   both.now ? base::fixed(both.now->frequency_hz, 2) : "–",
                   both.before && both.now
                       ? base::signed_fixed(both.now->frequency_hz - both.before->frequency_hz, 2)
                       : "–",
                   both.before && both.before->q ? base::fixed(*both.before->q, 1) : "–",
                   both.now && both.now->q ? base::fixed(*both.now->q, 1) : "–"});
    if (!table.empty())
        put(table.text());
    for (const ledger::WoodMotion motion : test.gone)
        say(fmt::format("  {} is not found now; what was found earlier counts.",
                        ledger::to_text(motion)));
    say(test.doubts);
    if (test.lost > 0)
        say(fmt::format("  {} taps have no whole recording; they are left out.", test.lost));
    if (test.not_rung > 0)
        say(fmt::format("  In {} taps no ring is found now; they are left out.", test.not_rung));
}

template <class Records>
auto analysed(const ledger::Store& store, const Records& history, const AgainOptions& o) {
    ProgressLine line("analysing");
    auto anew = bench::analyse_again(store, history, o.fit, line.callback());
    line.clear();
    return anew;
}

template <class Anew>
void keep_anew(const std::filesystem::path& folder, const Anew& anew) {
    ledger::Store store = open_to_change(folder, "Nothing was stored.");
    bench::keep_again(store, anew);
}

/// One plate, or one wood, anew: kept if asked, and shown. The JSON is empty where a table was
/// printed.
Json plate_again(const ledger::Store& store, const ledger::PlateRecord& plate,
                 const AgainOptions& o, const Common& common) {
    const auto sessions = analysed(store, store.history(plate.id).value(), o);
    if (o.keep)
        keep_anew(common.ledger_folder(), sessions);
    if (common.json)
        return {{"plate", plate}, {"sessions", array_of(sessions, session_json)}};
    say(plate.label);
    for (const bench::SessionAgain& session : sessions)
        say_session(session);
    return {};
}

Json wood_again(const ledger::Store& store, const ledger::WoodHistory& wood, const AgainOptions& o,
                const Common& common) {
    const auto tests = analysed(store, wood, o);
    if (o.keep)
        keep_anew(common.ledger_folder(), tests);
    if (common.json)
        return {{"wood", wood.wood}, {"tests", array_of(tests, test_again_json)}};
    say(wood.wood.label);
    if (tests.empty())
        say("  No test of it has recordings.");
    for (const bench::WoodTestAgain& test : tests)
        say_test(test);
    return {};
}

/// What is to be analysed anew: the one named, else all.
struct Meant {
    std::vector<ledger::PlateRecord> plates;
    std::vector<ledger::WoodHistory> woods;
};

Meant meant(const ledger::Store& store, const AgainOptions& o) {
    Meant all;
    if (!o.name.empty()) {
        if (o.wood)
            all.woods.push_back(needed(find_wood(store, o.name)));
        else
            all.plates.push_back(needed(find_plate(store, o.name)));
        return all;
    }
    if (!o.wood)
        for (const ledger::InstrumentSummary& instrument : store.overview())
            for (const ledger::PlateSummary& plate : instrument.plates)
                all.plates.push_back(plate.plate);
    all.woods = store.wood_stock();
    std::erase_if(all.woods,
                  [](const ledger::WoodHistory& wood) { // typed ones have nothing to be heard again
                      return std::ranges::all_of(wood.tests, [](const ledger::WoodTest& test) {
                          return test.taps.empty();
                      });
                  });
    return all;
}

ExitCode again(const AgainOptions& o, const Common& common) {
    const ledger::Store store = needed(open_to_read(common.ledger_folder()));
    const Meant all = meant(store, o);
    Json plates = Json::array(), woods = Json::array();
    for (const ledger::PlateRecord& plate : all.plates)
        plates.push_back(plate_again(store, plate, o, common));
    for (const ledger::WoodHistory& wood : all.woods)
        woods.push_back(wood_again(store, wood, o, common));
    if (common.json)
        print({{"schema", "platewright.again/1"},
               {"kept", o.keep},
               {"plates", plates},
               {"woods", woods}});
    else
        say(o.keep ? "Kept beside what earlier analyses found; what was found now is shown from "
                     "here on."
                   : "Nothing was changed; --keep keeps what was found now, beside what was found "
                     "earlier.");
    return k_done;
}

} // namespace

void add_again(CLI::App& app, Common& common, Chosen& chosen) {
    auto* command = app.add_subcommand(
        "again", "Analyse kept recordings anew, and show what was found before and now");
    command->footer(
        "Worth it after a new version of the program, or where a bundle brought more taps.\n\n"
        "  platewright again \"Wren back\"\n"
        "  platewright again \"Spruce 7\" --wood\n"
        "  platewright again --keep");
    auto o = std::make_shared<AgainOptions>();
    command->add_option(
        "PLATE", o->name,
        "The plate, by name or number; with --wood the wood [all plates and all wood]");
    command->add_flag("--wood", o->wood, "Wood in stock, in place of plates");
    command->add_flag("--keep", o->keep, "Keep what was found now, beside what was found earlier");
    add_band(*command, o->fit);
    finish(*command, common, chosen, o, again);
}

} // namespace platewright::cli
