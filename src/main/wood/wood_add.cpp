#include "audio/recording.hpp"
#include "base/text.hpp"
#include "bench/wood/stock.hpp"
#include "ledger/wood_columns.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find.hpp"
#include "main/strikes/hear.hpp"
#include "main/tables.hpp"
#include "main/typed.hpp"
#include "main/wood/wood_text.hpp"
#include "trends/wood/wood_taps.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <memory>

namespace platewright::cli {
namespace {

struct WoodAddOptions {
    std::vector<std::filesystem::path> files;
    modes::FitParams fit;
    bool is_band_said = false;
    std::string label, when;
    FieldOptions<ledger::WoodRecord> of_wood;
    FieldOptions<ledger::WoodTestRecord> of_test;
    std::vector<std::string> motions;
    int channel = 1;
};

trends::TypedMotion parse_motion(const std::string& text) {
    const auto equals = std::min(text.find('='), text.size());
    const auto at = std::min(text.find('@', equals), text.size());
    const auto motion = ledger::wood_motion_from_word(text.substr(0, equals));
    const auto hz = base::parse_number(
        text.substr(std::min(equals + 1, text.size()), at - std::min(equals + 1, at)));
    const auto q = at < text.size() ? base::parse_number(text.substr(at + 1)) : std::nullopt;
    if (!motion || !hz || *hz < 10 || *hz > 40000 ||
        (at < text.size() && (!q || *q < 1 || *q > 10000)))
        throw CLI::ValidationError(
            "--motion", fmt::format("“{}” is no motion: give MOTION=HZ or MOTION=HZ@Q, MOTION one "
                                    "of along, across, twist, sound_along, sound_across",
                                    text));
    return {*motion, *hz, q};
}

ledger::WoodTestRecord checked_test(const WoodAddOptions& o) {
    ledger::WoodTestRecord test = o.of_test.put_into({.piece = ledger::Piece::board});
    if (test.thin_edge_mm > test.thickness_mm)
        throw CLI::ValidationError("--thin-edge", "the thin edge is thicker than the thick one");
    test.at = typed_moment(o.when, "--when");
    return test;
}

/// All that was heard: the modes of all files, and the taps with their sound.
struct HeardWood {
    std::vector<modes::Mode> modes;
    std::vector<bench::HeardTap> taps;
    std::string trouble;
};

HeardWood hear_all(const WoodAddOptions& o, bool as_json, base::Timestamp now,
                   KnownStrikes& known) {
    HeardWood all;
    for (const auto& path : o.files) {
        const Heard heard = hear(path, o.channel - 1, o.fit, [&](bench::HeardTap& tap) {
            if (known.has(tap.tap, now))
                return;
            if (!as_json)
                say(tap_line(tap));
            all.taps.push_back(tap);
        });
        if (!heard.trouble.empty())
            all.trouble = heard.trouble;
    }
    all.modes = bench::pool(all.taps, o.fit).modes; // of all files together, as `again` does
    return all;
}

void keep_test(ledger::Store& store, const ledger::WoodTestRecord& test,
               const std::vector<ledger::WoodModeRecord>& modes,
               const std::vector<bench::HeardTap>& taps) {
    const ledger::Id id = store.add(test, modes);
    for (const bench::HeardTap& heard : taps) {
        ledger::TapRecord record;
        record.at = test.at;
        record.verdict = heard.tap.verdict;
        record.spot = heard.tap.spot;
        store.add_wood_tap(id, record, heard.tap);
    }
}

ExitCode add(WoodAddOptions o, const Common& common) {
    o.label = typed_label(o.label, "WOOD");
    ledger::WoodTestRecord test = checked_test(o);
    std::vector<trends::TypedMotion> typed;
    for (const std::string& text : o.motions)
        typed.push_back(parse_motion(text));
    for (const auto& path : o.files)
        if (const auto opened = audio::Recording::open(path, o.channel - 1); !opened)
            return refuse(opened.fault().what + " Nothing was kept.", k_unusable);
    ledger::Store store = open_to_change(common.ledger_folder(), "Nothing was kept.");
    KnownStrikes known;
    for (const ledger::WoodHistory& one : store.wood_stock())
        for (const ledger::WoodTest& earlier : one.tests)
            if (one.wood.label == o.label)
                known.add(earlier.taps, earlier.record.at);
    constexpr double audible_hz = 20000; // and no more: a chip of wood is no piece
    if (!o.is_band_said)
        o.fit.high_hz = std::clamp(trends::highest_motion_hz(test), o.fit.high_hz, audible_hz);
    const HeardWood heard = hear_all(o, common.json, test.at, known);
    if (heard.taps.empty() && known.met() > 0) {
        complain(fmt::format("All {} taps are in the test of {} already: nothing was kept.",
                             known.met(), known.day()));
        return k_unusable;
    }
    if (known.met() > 0)
        complain(
            fmt::format("{} of the taps are in the test of {} already, and were not kept again.",
                        known.met(), known.day()));
    test.wood =
        bench::wood_called(store, o.of_wood.put_into({.label = o.label, .created = test.at}));
    const ledger::WoodHistory wood = needed(find_wood(store, std::to_string(test.wood)));
    const trends::RecognisedMotions found = trends::recognise(
        heard.modes, test, wood.wood.species, typed, std::string(modes::k_analysis_version));
    keep_test(store, test, found.modes, heard.taps);
    ReadWood kept{*find_wood(store, std::to_string(test.wood)), {}};
    kept.figures = trends::wood_figures(kept.history);
    if (common.json) {
        print({{"schema", "platewright.wood/1"},
               {"wood", wood_json(kept)},
               {"doubts", found.doubts}});
    } else {
        put(wood_page(kept));
        say(found.doubts);
    }
    if (!heard.trouble.empty())
        complain(heard.trouble + " What was heard is kept.");
    const bool silent = !o.files.empty() && heard.modes.empty();
    return !heard.trouble.empty() ? k_unusable : silent ? k_nothing_found : k_done;
}

} // namespace

void add_wood_add(CLI::App& wood, Common& common, Chosen& chosen) {
    auto* command = wood.add_subcommand(
        "add", "Bring a piece of wood into the ledger, measured, weighed and tapped");
    command->footer("Wood of that name that is there already gets another test: a bar cut from the "
                    "billet, the board made\n"
                    "of the wedge. Motions are found in the recordings, or said with --motion: "
                    "bending along and across the\n"
                    "grain, the twist of a board, and the sound of a piece struck on its end.\n\n"
                    "  platewright wood add \"Spruce 7\" --species norway_spruce --along 400 "
                    "--across 190 --thickness 4,2 \\\n"
                    "    --mass 137,5 --temperature 20 --humidity 47 spruce-7.wav\n"
                    "  platewright wood add \"Spruce 7\" --piece bar --along 400 --across 30 "
                    "--thickness 6 --mass 31 --motion along=226,4@110");
    auto o = std::make_shared<WoodAddOptions>();
    command->add_option("WOOD", o->label, "Its name in your stock")->required();
    command->add_option("FILE", o->files, "Recordings of its taps");
    o->of_wood.add_to(*command);
    o->of_test.add_to(*command);
    for (const char* option : {"--along", "--across", "--thickness"})
        command->get_option(option)->required();
    repeated(*command, "--motion", o->motions, "A frequency of the piece, with or without its Q",
             "MOTION=HZ[@Q]");
    add_when(*command, o->when);
    add_channel(*command, o->channel);
    add_band(*command, o->fit, &o->is_band_said);
    finish(*command, common, chosen, o, add);
}

} // namespace platewright::cli
