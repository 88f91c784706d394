#include "base/clock.hpp"
#include "base/text.hpp"
#include "bench/session/fresh_session.hpp"
#include "bench/workbench.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find.hpp"
#include "main/json.hpp"
#include "main/strikes/enter_recordings.hpp"
#include "main/strikes/hear.hpp"
#include "main/tables.hpp"
#include "main/typed.hpp"
#include "trends/decision/decision.hpp"
#include "trends/review/mass_check.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <memory>

namespace platewright::cli {
namespace {

struct EnterOptions {
    std::vector<std::filesystem::path> files;
    modes::FitParams fit;
    bool is_band_said = false;
    std::string plate, instrument, when, reference;
    FieldOptions<ledger::SessionRecord> of_session;
    FieldOptions<ledger::PlateRecord> of_plate;
    FieldOptions<ledger::InstrumentRecord> of_instrument;
    std::vector<std::string> spots;
    int channel = 1;
    bool date_is_right = false;
    bool takes_doubtful = false;
};

/// What the command line says, checked before the ledger is touched.
struct Entry {
    ledger::SessionRecord session;
    ledger::PlateRecord plate;           ///< as it would be made
    ledger::InstrumentRecord instrument; ///< likewise
    bool knows_part = false;             ///< which was said, or the plate's name says it
    std::vector<SpotFrom> spots;
};

SpotFrom parse_spot(const std::string& text) {
    const auto colon = text.find(':');
    const auto from =
        colon == std::string::npos ? std::optional{0.0} : base::parse_number(text.substr(0, colon));
    const auto spot =
        taps::spot_from_word(colon == std::string::npos ? text : text.substr(colon + 1));
    if (!from || !spot) {
        std::string words;
        for (const taps::Spot one : taps::k_spots)
            words += " " + std::string(taps::to_word(one));
        throw CLI::ValidationError(
            "--spot",
            fmt::format("“{}” is no spot: give SPOT or SECONDS:SPOT, SPOT one of{}", text, words));
    }
    return {*from, *spot};
}

Entry checked_entry(EnterOptions& o) {
    o.plate = typed_label(o.plate, "--plate");
    if (!o.instrument.empty())
        o.instrument = typed_label(o.instrument, "--instrument");
    if (!o.reference.empty())
        o.reference = typed_label(o.reference, "--reference");
    Entry entry;
    entry.session.begun = entry.plate.created = entry.instrument.created =
        typed_moment(o.when, "--when");
    entry.session = o.of_session.put_into(entry.session);
    entry.instrument.label = o.instrument.empty() ? o.plate : o.instrument;
    entry.instrument = o.of_instrument.put_into(entry.instrument);
    const auto part = part_named_in(o.plate);
    entry.plate.label = o.plate;
    entry.plate.part = part.value_or(entry.plate.part);
    entry.plate = o.of_plate.put_into(entry.plate);
    entry.knows_part = part || o.of_plate.said("part");
    for (const std::string& spot : o.spots)
        entry.spots.push_back(parse_spot(spot));
    return entry;
}

std::optional<ledger::InstrumentRecord> instrument_for(const ledger::Store& store,
                                                       const Entry& entry) {
    for (const auto& known : store.overview())
        if (same_label(known.instrument.label, entry.instrument.label))
            return known.instrument;
    return std::nullopt;
}

/// A plate that is there, with its instrument.
struct Known {
    ledger::PlateRecord plate;
    ledger::InstrumentRecord instrument;
};

std::string noted_otherwise(const TypedOptions& typed, const std::string& option,
                            const base::Limits& limits) {
    return fmt::format("not noted with --{} {} {}", option, typed.text(option), limits.unit);
}

/// What is said of the instrument and is not so of the one of that name.
std::optional<base::Fault> contradiction(const ledger::InstrumentRecord& known,
                                         const EnterOptions& o, const Entry& entry) {
    const std::string option = o.of_instrument.contradicting(known);
    if (option.empty())
        return std::nullopt;
    const std::string said = option == "kind"
                                 ? fmt::format("no {}", modes::to_text(entry.instrument.kind))
                                 : noted_otherwise(o.of_instrument, option, ledger::k_body_length);
    return base::Fault{fmt::format("“{}” is there already, a {}, and {}: `platewright correct "
                                   "instrument` puts that right where it is wrong. Nothing was "
                                   "entered.",
                                   known.label, modes::to_text(known.kind), said)};
}

/// What is said of the plate and is not so of the one that was found: no session may come to lie in
/// another's history without a word.
std::optional<base::Fault> contradiction(const Known& known, const EnterOptions& o,
                                         const Entry& entry) {
    const std::string which =
        fmt::format("“{}” is there already, the {} of the {} “{}”", known.plate.label,
                    modes::to_word(known.plate.part), modes::to_text(known.instrument.kind),
                    known.instrument.label);
    const auto not_so = [&](const std::string& what) {
        return base::Fault{fmt::format("{}, and {}: a plate of its own needs another --plate; what "
                                       "is wrong of that one `platewright correct` puts right. "
                                       "Nothing was entered.",
                                       which, what)};
    };
    if (!o.instrument.empty() && !same_label(o.instrument, known.instrument.label))
        return not_so(fmt::format("not of “{}”", o.instrument));
    const std::string option = o.of_plate.contradicting(known.plate);
    if (option == "part")
        return not_so(fmt::format("no {}", modes::to_word(entry.plate.part)));
    if (auto fault = contradiction(known.instrument, o, entry))
        return fault;
    if (option == "wood")
        return not_so(known.plate.wood.empty() ? "nothing is noted of its wood"
                                               : fmt::format("of “{}”", known.plate.wood));
    if (!option.empty())
        return not_so(noted_otherwise(o.of_plate, option, ledger::k_density));
    return std::nullopt;
}

/// The plate that is meant, where it is there: of that instrument, where one is said.
base::Result<std::optional<Known>> known_plate(const ledger::Store& store, const EnterOptions& o,
                                               const Entry& entry) {
    std::vector<Known> all;
    for (const ledger::PlateRecord& plate : plates_called(store, o.plate))
        all.push_back({plate, store.history(plate.id).value().instrument});
    std::vector<Known> of_instrument;
    for (const Known& one : all)
        if (same_label(one.plate.label, o.plate) && same_label(one.instrument.label, o.instrument))
            of_instrument.push_back(one);
    if (!of_instrument.empty())
        all = of_instrument;
    else if (!o.instrument.empty() && std::ranges::all_of(all, [&](const Known& one) {
                 return same_label(one.plate.label, o.plate);
             }))
        all.clear(); // that of another instrument is called so too
    if (all.empty()) {
        const auto instrument = instrument_for(store, entry);
        const auto fault = instrument ? contradiction(*instrument, o, entry) : std::nullopt;
        return fault ? base::Result<std::optional<Known>>(*fault) : std::optional<Known>();
    }
    if (all.size() > 1)
        return find_plate(store, o.plate).fault();
    if (auto fault = contradiction(all.front(), o, entry))
        return *fault;
    return std::optional(all.front());
}

/// Made with its instrument where that is new too.
ledger::Id make_plate(ledger::Store& store, const Entry& entry, Made& made, bool json) {
    const auto known = instrument_for(store, entry);
    ledger::PlateRecord plate = entry.plate;
    plate.instrument = known ? known->id : made.add("instrument", store.add(entry.instrument));
    const modes::InstrumentKind kind = known ? known->kind : entry.instrument.kind;
    if (!json)
        say(fmt::format("“{}” is new in the ledger: the {} of {} {} “{}”. `platewright correct` "
                        "and the window put that right "
                        "where it is not so.",
                        plate.label, modes::to_word(plate.part), known ? "the" : "a new",
                        kind == modes::InstrumentKind::other ? "instrument" : modes::to_text(kind),
                        entry.instrument.label));
    return made.add("plate", store.add(plate));
}

/// What is wrong with the mass, of a plate that is there or of the one that would be made.
std::optional<base::Fault> mass_fault(const ledger::Store& store, const Entry& entry,
                                      const std::optional<Known>& known) {
    ledger::PlateHistory history;
    const auto instrument = instrument_for(store, entry);
    history.instrument.kind = instrument ? instrument->kind : entry.instrument.kind;
    history.plate.part = entry.plate.part;
    if (known)
        history = store.history(known->plate.id).value_or(history);
    return trends::fault_in_mass(entry.session, history);
}

void report_entry(const Common& common, const bench::Workbench& bench) {
    const bench::PlateView& view = *bench.view();
    const auto* session = ledger::session_in(view.history.sessions, view.session);
    const auto accepted = std::count_if(session->taps.begin(), session->taps.end(),
                                        [](const auto& t) { return taps::counts(t.verdict); });
    // No decision stands beside it here.
    const std::string doubt = trends::doubt_beside(view.naming, {});
    if (common.json) {
        print({{"schema", "platewright.enter/1"},
               {"plate", plate_json(view.history)},
               {"session", session->session},
               {"taps", session->taps.size()},
               {"accepted", accepted},
               {"modes", view.naming.modes},
               {"doubt", doubt},
               {"repeatability", view.repeatability}});
        return;
    }
    say(fmt::format("{} of “{}”: session of {} kept, {} taps, {} accepted.",
                    view.history.plate.label, view.history.instrument.label,
                    base::local_date_time(session->session.begun), session->taps.size(), accepted));
    if (!view.naming.modes.empty())
        say(modes_table(view.naming.modes, true));
    if (!doubt.empty())
        say("  " + doubt);
    if (!view.repeatability.empty())
        say("  " + view.repeatability);
}

ExitCode enter_files(EnterOptions o, const Common& common) {
    const Entry entry = checked_entry(o);
    for (const auto& path : o.files) // before anything is kept
        if (const auto opened = open_to_hear(path, o.channel - 1, o.fit); !opened)
            return refuse(opened.fault().what + " Nothing was entered.", k_unusable);
    ledger::Store store = open_to_change(common.ledger_folder(), "Nothing was entered.");
    if (const auto doubt = o.when.empty() && !o.date_is_right
                               ? bench::date_in_doubt(store.overview(), base::now())
                               : std::nullopt)
        return refuse(*doubt + " Nothing was entered; --date-is-right enters it all the same, "
                               "--when dates it yourself.",
                      k_unusable);
    const std::optional<Known> known = needed(known_plate(store, o, entry), k_wrong_usage);
    if (!known && !entry.knows_part)
        return refuse(fmt::format("“{}” is new: say which part it is with --part top, back or "
                                  "body. Nothing was entered.",
                                  o.plate),
                      k_wrong_usage);
    const modes::Part part = known ? known->plate.part : entry.plate.part;
    const modes::Stage stage = o.of_session.said("stage")  ? entry.session.stage
                               : part == modes::Part::body ? modes::Stage::closed
                                                           : modes::Stage::graduating;
    if (!modes::suits(part, stage))
        return refuse(
            fmt::format(
                "“{}” can't be at the stage {}: a body is closed, varnished or set_up, a plate is "
                "none of these, and a back has neither f-holes nor a bar. Nothing was entered.",
                o.plate, modes::to_word(stage)),
            k_wrong_usage);
    if (const auto fault = mass_fault(store, entry, known)) // before a plate is made
        return refuse(fault->what, k_unusable);
    Made made(store);
    const ledger::Id plate = known ? known->plate.id : make_plate(store, entry, made, common.json);
    ledger::SessionRecord session = entry.session;
    session.plate = plate;
    session.stage = stage;
    if (const auto history = o.is_band_said ? std::nullopt : store.history(plate)) {
        o.fit = usual_fit(*history);
    }
    bench::Workbench bench(store, o.fit);
    const EnteredRecordings done = enter_recordings(store, bench, session,
                                                    {.files = o.files,
                                                     .channel = o.channel - 1,
                                                     .fit = o.fit,
                                                     .spots = entry.spots,
                                                     .takes_doubtful = o.takes_doubtful},
                                                    made, [&](const bench::HeardTap& tap) {
                                                        if (!common.json)
                                                            say(tap_line(tap));
                                                    });
    if (done.recognised > 0 && !common.json)
        say(fmt::format("  {} of the taps that hardly rang count: they ring like the others.",
                        done.recognised));
    if (done.session) {
        if (!o.reference.empty())
            store.add_reference(*done.session, o.reference);
        report_entry(common, bench);
    }
    for (const std::string& complaint : done.complaints)
        complain(complaint);
    if (!done.session)
        return k_unusable;
    return done.unusable ? k_unusable : done.found ? k_done : k_nothing_found;
}

} // namespace

void add_enter(CLI::App& app, Common& common, Chosen& chosen) {
    auto* command = app.add_subcommand("enter", "Record a session into the ledger from recordings");
    command->footer(
        "Every tap is kept with its sound; a plate that is not there yet is made. Without FILE the "
        "session is\n"
        "begun and left open: the window goes on with it. Without --stage a plate is graduating, a "
        "body closed.\n\n"
        "  platewright enter --plate \"Wren back\" --instrument Wren --mass 103,1 --humidity 46 "
        "taps.wav\n"
        "  platewright enter --plate \"Wren back\" --spot centre --spot 6.2:lower_end taps.flac\n"
        "  platewright enter --plate \"Wren body\" --instrument Wren --part body --stage set_up "
        "bridge.wav");
    auto o = std::make_shared<EnterOptions>();
    command->add_option("FILE", o->files, "Recordings of the session's taps");
    command->add_option("--plate", o->plate, "The plate, by name or number")
        ->required()
        ->type_name("PLATE");
    option(*command, "--instrument", o->instrument,
           "Its instrument, where the plate is new [the plate's name]", "NAME");
    const std::string where_new =
        "Where the plate or its instrument is new [a violin; the part that the name says]";
    o->of_instrument.add_to(*command, {"label", "notes"}, where_new);
    o->of_plate.add_to(*command, {"label", "notes"}, where_new);
    o->of_session.add_to(*command);
    add_when(*command, o->when);
    command->add_flag("--date-is-right", o->date_is_right,
                      "Enter it though the newest session lies in the future");
    option(*command, "--reference", o->reference, "Mark the session as a reference of this name",
           "NAME");
    repeated(*command, "--spot", o->spots,
             "Where the taps were struck; with SECONDS, from there on", "[SECONDS:]SPOT");
    add_channel(*command, o->channel);
    add_doubtful(*command, o->takes_doubtful);
    add_band(*command, o->fit, &o->is_band_said);
    finish(*command, common, chosen, o, enter_files);
}

} // namespace platewright::cli
