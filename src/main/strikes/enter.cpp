#include "base/clock.hpp"
#include "base/failure.hpp"
#include "base/text.hpp"
#include "bench/session/date_check.hpp"
#include "bench/workbench.hpp"
#include "ledger/limits.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find/find_plate.hpp"
#include "main/json.hpp"
#include "main/strikes/enter_recordings.hpp"
#include "main/strikes/hear.hpp"
#include "main/tables.hpp"
#include "main/typed.hpp"
#include "trends/review/mass_check.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <memory>

namespace platewright::cli {
namespace {

constexpr const char* k_stage_words =
    "rough, graduating, graduated, f_holes_cut, bar_fitted, finished, closed, varnished, set_up";

struct EnterOptions {
    std::vector<std::filesystem::path> files;
    modes::FitParams fit;
    bool is_band_said = false;
    std::string plate, instrument, kind, body_length, part, wood, stage, when, notes, reference;
    std::string mass, temperature, humidity;
    std::vector<std::string> spots;
    int channel = 1;
    bool date_is_right = false;
    bool takes_doubtful = false;
};

/// What the command line says, checked before the ledger is touched.
struct Entry {
    ledger::SessionRecord session;
    modes::InstrumentKind kind = modes::InstrumentKind::violin;
    std::optional<double> body_length_mm;
    std::optional<modes::Part> part;   ///< as said, or as the plate's name says it
    std::optional<modes::Stage> stage; ///< as said
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
    if (!o.kind.empty())
        entry.kind = typed_word(modes::instrument_kind_from_word(o.kind), "--kind", o.kind,
                                "violin, viola, cello, double_bass, other");
    entry.body_length_mm = typed_number(o.body_length, "--body-length", ledger::k_body_length);
    entry.part = o.part.empty() ? part_named_in(o.plate)
                                : std::optional(typed_word(modes::part_from_word(o.part), "--part",
                                                           o.part, "top, back, body"));
    if (!o.stage.empty())
        entry.stage =
            typed_word(modes::stage_from_word(o.stage), "--stage", o.stage, k_stage_words);
    entry.session.mass_g = typed_number(o.mass, "--mass", ledger::k_mass);
    entry.session.temperature_c =
        typed_number(o.temperature, "--temperature", ledger::k_temperature);
    entry.session.humidity_pct = typed_number(o.humidity, "--humidity", ledger::k_humidity);
    entry.session.notes = o.notes;
    entry.session.begun = typed_moment(o.when, "--when");
    for (const std::string& spot : o.spots)
        entry.spots.push_back(parse_spot(spot));
    return entry;
}

std::string instrument_label(const EnterOptions& o) {
    return o.instrument.empty() ? o.plate : o.instrument;
}

std::optional<ledger::InstrumentRecord> instrument_for(const ledger::Store& store,
                                                       const EnterOptions& o) {
    for (const auto& known : store.overview())
        if (same_label(known.instrument.label, instrument_label(o)))
            return known.instrument;
    return std::nullopt;
}

/// A plate that is there, with its instrument.
struct Known {
    ledger::PlateRecord plate;
    ledger::InstrumentRecord instrument;
};

/// What is said of the instrument and is not so of the one of that name.
std::optional<base::Fault> contradiction(const ledger::InstrumentRecord& known,
                                         const EnterOptions& o, const Entry& entry) {
    std::string said;
    if (!o.kind.empty() && entry.kind != known.kind)
        said = fmt::format("no {}", modes::to_text(entry.kind));
    else if (entry.body_length_mm && entry.body_length_mm != known.body_length_mm)
        said = fmt::format("not noted as {} mm long", o.body_length);
    if (said.empty())
        return std::nullopt;
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
    if (!o.part.empty() && *entry.part != known.plate.part)
        return not_so(fmt::format("no {}", modes::to_word(*entry.part)));
    if (auto fault = contradiction(known.instrument, o, entry))
        return fault;
    if (!o.wood.empty() && o.wood != known.plate.wood)
        return not_so(known.plate.wood.empty() ? "nothing is noted of its wood"
                                               : fmt::format("of “{}”", known.plate.wood));
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
        const auto instrument = instrument_for(store, o);
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
ledger::Id make_plate(ledger::Store& store, const EnterOptions& o, const Entry& entry, Made& made,
                      bool json) {
    const auto known = instrument_for(store, o);
    const ledger::Id instrument =
        known ? known->id
              : made.add("instrument", store.add({.label = instrument_label(o),
                                                  .kind = entry.kind,
                                                  .body_length_mm = entry.body_length_mm,
                                                  .created = entry.session.begun}));
    const modes::InstrumentKind kind = known ? known->kind : entry.kind;
    if (!json)
        say(fmt::format("“{}” is new in the ledger: the {} of {} {} “{}”. `platewright correct` "
                        "and the window put that right "
                        "where it is not so.",
                        o.plate, modes::to_word(*entry.part), known ? "the" : "a new",
                        kind == modes::InstrumentKind::other ? "instrument" : modes::to_word(kind),
                        instrument_label(o)));
    return made.add("plate", store.add(ledger::PlateRecord{.instrument = instrument,
                                                           .part = *entry.part,
                                                           .label = o.plate,
                                                           .wood = o.wood,
                                                           .created = entry.session.begun}));
}

/// What is wrong with the mass, of a plate that is there or of the one that would be made.
std::optional<base::Fault> mass_fault(const ledger::Store& store, const EnterOptions& o,
                                      const Entry& entry, const std::optional<Known>& known) {
    ledger::PlateHistory history;
    const auto instrument = instrument_for(store, o);
    history.instrument.kind = instrument ? instrument->kind : entry.kind;
    history.plate.part = entry.part.value_or(modes::Part::back);
    if (known)
        history = store.history(known->plate.id).value_or(history);
    return trends::fault_in_mass(entry.session, history);
}

void report_entry(const Common& common, const bench::Workbench& bench) {
    const bench::PlateView& view = *bench.view();
    const auto session = std::find_if(view.history.sessions.begin(), view.history.sessions.end(),
                                      [&](const auto& s) { return s.session.id == view.session; });
    const auto accepted = std::count_if(session->taps.begin(), session->taps.end(),
                                        [](const auto& t) { return taps::counts(t.verdict); });
    if (common.json) {
        print({{"schema", "platewright.enter/1"},
               {"plate", {{"id", view.history.plate.id}, {"label", view.history.plate.label}}},
               {"session", to_json(session->session)},
               {"taps", session->taps.size()},
               {"accepted", accepted},
               {"modes", to_array(view.naming.modes)},
               {"doubt", view.naming.doubt},
               {"repeatability", view.repeatability}},
              true);
        return;
    }
    say(fmt::format("{} of “{}”: session of {} kept, {} taps, {} accepted.",
                    view.history.plate.label, view.history.instrument.label,
                    base::local_date_time(session->session.begun), session->taps.size(), accepted));
    if (!view.naming.modes.empty())
        say(modes_table(view.naming.modes, true));
    if (!view.naming.doubt.empty())
        say("  " + view.naming.doubt);
    if (!view.repeatability.empty())
        say("  " + view.repeatability);
}

ExitCode enter_files(EnterOptions o, const Common& common) {
    const Entry entry = checked_entry(o);
    for (const auto& path : o.files) // before anything is kept
        if (const auto opened = open_to_hear(path, o.channel - 1, o.fit); !opened) {
            complain(opened.fault().what + " Nothing was entered.");
            return k_unusable;
        }
    ledger::Store store = open_to_write(common.ledger_folder());
    if (store.read_only())
        throw base::Failure(
            fmt::format("The ledger “{}” can only be read now, because {}. Nothing was entered.",
                        store.folder().string(), store.why_read_only()));
    if (const auto doubt = o.when.empty() && !o.date_is_right
                               ? bench::date_in_doubt(store.overview(), base::now())
                               : std::nullopt) {
        complain(*doubt + " Nothing was entered; --date-is-right enters it all the same, --when "
                          "dates it yourself.");
        return k_unusable;
    }
    const auto found = known_plate(store, o, entry);
    if (!found) {
        complain(found.fault().what);
        return k_wrong_usage;
    }
    const std::optional<Known>& known = *found;
    if (!known && !entry.part) {
        complain(fmt::format(
            "“{}” is new: say which part it is with --part top, back or body. Nothing was entered.",
            o.plate));
        return k_wrong_usage;
    }
    const modes::Part part = known ? known->plate.part : *entry.part;
    const modes::Stage stage = entry.stage.value_or(
        part == modes::Part::body ? modes::Stage::closed : modes::Stage::graduating);
    if (!modes::suits(part, stage)) {
        complain(fmt::format(
            "“{}” can't be at the stage {}: a body is closed, varnished or set_up, a plate is none "
            "of these, and a back has neither f-holes nor a bar. Nothing was entered.",
            o.plate, modes::to_word(stage)));
        return k_wrong_usage;
    }
    if (const auto fault = mass_fault(store, o, entry, known)) { // before a plate is made
        complain(fault->what);
        return k_unusable;
    }
    Made made(store);
    const ledger::Id plate =
        known ? known->plate.id : make_plate(store, o, entry, made, common.json);
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
        "begun and left open: the window goes on with it.\n\n"
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
    command
        ->add_option("--instrument", o->instrument,
                     "Its instrument, where the plate is new [the plate's name]")
        ->type_name("NAME");
    command
        ->add_option(
            "--kind", o->kind,
            "violin, viola, cello, double_bass or other, where the instrument is new [violin]")
        ->type_name("KIND");
    command
        ->add_option("--body-length", o->body_length,
                     "Length of its body in mm, where it is new: of small sizes, violas, basses")
        ->type_name("MM");
    command
        ->add_option(
            "--part", o->part,
            "top, back or body (the closed instrument), where it is new [as its name says it]")
        ->type_name("PART");
    command->add_option("--wood", o->wood, "The wood, in your words, where the plate is new")
        ->type_name("TEXT");
    command
        ->add_option("--stage", o->stage,
                     "Of a plate: rough, graduating, graduated, f_holes_cut, bar_fitted, finished; "
                     "of a body: closed, varnished, set_up [graduating; closed]")
        ->type_name("STAGE");
    command->add_option("--mass", o->mass, "Weighed mass in g; a decimal comma is fine")
        ->type_name("G");
    command->add_option("--temperature", o->temperature, "Room temperature in °C")->type_name("C");
    command->add_option("--humidity", o->humidity, "Relative humidity in %")->type_name("PCT");
    command
        ->add_option("--when", o->when,
                     "Date (2026-03-14 or 14.3.2026), or date and time, by your own clock [now]")
        ->type_name("DATE");
    command->add_flag("--date-is-right", o->date_is_right,
                      "Enter it though the newest session lies in the future");
    command->add_option("--notes", o->notes, "Notes on the session")->type_name("TEXT");
    command->add_option("--reference", o->reference, "Mark the session as a reference of this name")
        ->type_name("NAME");
    command
        ->add_option("--spot", o->spots, "Where the taps were struck; with SECONDS, from there on")
        ->allow_extra_args(false)
        ->type_name("[SECONDS:]SPOT");
    command->add_option("--channel", o->channel, "Channel to read, counted from 1")
        ->check(CLI::Range(1, 1024))
        ->capture_default_str();
    add_doubtful(*command, o->takes_doubtful);
    add_band(*command, o->fit);
    add_ledger(*command, common);
    add_json(*command, common);
    command->callback([&chosen, &common, command, o] {
        o->is_band_said = command->count("--band") > 0;
        chosen = [&common, o] { return enter_files(*o, common); };
    });
}

} // namespace platewright::cli
