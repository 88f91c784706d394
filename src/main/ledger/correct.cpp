#include "bench/session/correct.hpp"

#include "base/failure.hpp"
#include "base/text.hpp"
#include "bench/workbench.hpp"
#include "ledger/limits.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find/find_plate.hpp"
#include "main/find/find_session.hpp"
#include "main/json.hpp"
#include "main/typed.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <memory>

namespace platewright::cli {
namespace {

struct CorrectOptions {
    std::string plate, session, to, when, instrument, spot;
    std::string mass, stage, temperature, humidity, label, part, kind, body_length;
    std::vector<std::size_t> numbers; // counted from 1
    bool withdraw = false, take_out = false;
};

/// What a correction is made on, found before anything is changed.
struct Found {
    ledger::PlateHistory history;
    std::size_t session = 0;
    const ledger::SessionHistory& one() const { return history.sessions[session]; }
    std::string name() const {
        return fmt::format("the session of {} of “{}”", base::local_date_time(one().session.begun),
                           history.plate.label);
    }
};

/// A correction's sentence of what was done, or a Fault.
using Done = base::Result<std::string>;

base::Result<Found> find(const ledger::Store& store, const CorrectOptions& o, bool with_session) {
    const auto plate = find_plate(store, o.plate);
    if (!plate)
        return plate.fault();
    Found found{store.history(plate->id).value()};
    if (!with_session)
        return found;
    const auto session = find_session(found.history, o.session);
    if (!session)
        return session.fault();
    found.session = *session;
    return found;
}

/// As the window does it: all that rests on it follows. `act` gives what it corrected.
template <class Act>
std::optional<base::Fault> put_right(ledger::Store& store, const Act& act) {
    try {
        bench::Workbench(store, {}).heal(act());
    } catch (const bench::CannotBe& refused) {
        return base::Fault{refused.what()};
    }
    return std::nullopt;
}

/// Mass, stage and air as they were, where they were said.
ledger::SessionRecord corrected(ledger::SessionRecord session, const CorrectOptions& o) {
    if (!o.mass.empty())
        session.mass_g = typed_number(o.mass, "--mass", ledger::k_mass);
    if (!o.stage.empty())
        session.stage =
            typed_word(modes::stage_from_word(o.stage), "--stage", o.stage, "the stages of enter");
    if (!o.temperature.empty())
        session.temperature_c = typed_number(o.temperature, "--temperature", ledger::k_temperature);
    if (!o.humidity.empty())
        session.humidity_pct = typed_number(o.humidity, "--humidity", ledger::k_humidity);
    return session;
}

Done correct_session(ledger::Store& store, const CorrectOptions& o) {
    if (o.mass.empty() && o.stage.empty() && o.temperature.empty() && o.humidity.empty() &&
        o.when.empty() && o.to.empty())
        return base::Fault{"Say what is to be put right of it: --mass, --stage, --temperature, "
                           "--humidity, --when or --to. Nothing was changed."};
    const auto found = find(store, o, true);
    if (!found)
        return found.fault();
    ledger::SessionRecord session = corrected(found->one().session, o);
    const bool has_values = session != found->one().session;
    std::string to;
    if (!o.when.empty())
        session.begun = typed_moment(o.when, "--when");
    if (!o.to.empty()) {
        const auto plate = find_plate(store, o.to);
        if (!plate)
            return plate.fault();
        session.plate = plate->id;
        to = plate->label;
    }
    const bool is_day_alone = !has_values && to.empty();
    if (auto fault = put_right(store, [&] {
            return is_day_alone
                       ? bench::correct(store, bench::command::SetBegun{session.id, session.begun})
                       : bench::correct(store, session);
        }))
        return *fault;
    std::vector<std::string> said;
    if (has_values)
        said.push_back(fmt::format("Corrected: {}.", found->name()));
    if (!o.when.empty())
        said.push_back(fmt::format("Begun on {} now: {}.", base::local_date_time(session.begun),
                                   found->name()));
    if (!to.empty())
        said.push_back(fmt::format("Moved to “{}”: {}.", to, found->name()));
    return fmt::to_string(fmt::join(said, " "));
}

Done correct_plate(ledger::Store& store, const CorrectOptions& o) {
    if (o.label.empty() && o.part.empty() && o.instrument.empty())
        return base::Fault{"Say what is to be put right of it: --label, --part or --instrument. "
                           "Nothing was changed."};
    const auto found = find(store, o, false);
    if (!found)
        return found.fault();
    std::optional<ledger::InstrumentRecord> instrument;
    if (!o.instrument.empty()) { // before anything is changed
        const auto known = find_instrument(store, o.instrument);
        if (!known)
            return known.fault();
        instrument = *known;
    }
    std::string said;
    if (!o.label.empty() || !o.part.empty()) {
        ledger::PlateRecord plate = found->history.plate;
        if (!o.label.empty())
            plate.label = typed_label(o.label, "--label");
        if (!o.part.empty())
            plate.part =
                typed_word(modes::part_from_word(o.part), "--part", o.part, "top, back, body");
        if (auto fault = put_right(store, [&] { return bench::correct(store, plate); }))
            return *fault;
        said = fmt::format("“{}” is the {} “{}” now.", found->history.plate.label,
                           modes::to_text(plate.part), plate.label);
    }
    if (!instrument)
        return said;
    if (auto fault = put_right(store, [&] {
            return bench::correct(
                store, bench::command::MovePlate{found->history.plate.id, instrument->id});
        }))
        return *fault;
    return fmt::format("{}{}“{}” belongs to “{}” now, no more to “{}”.", said,
                       said.empty() ? "" : " ", found->history.plate.label, instrument->label,
                       found->history.instrument.label);
}

Done correct_instrument(ledger::Store& store, const CorrectOptions& o) {
    if (o.label.empty() && o.kind.empty() && o.body_length.empty())
        return base::Fault{"Say what is to be put right of it: --label, --kind or --body-length. "
                           "Nothing was changed."};
    auto instrument = find_instrument(store, o.plate);
    if (!instrument)
        return instrument.fault();
    if (!o.label.empty())
        instrument->label = typed_label(o.label, "--label");
    if (!o.kind.empty())
        instrument->kind = typed_word(modes::instrument_kind_from_word(o.kind), "--kind", o.kind,
                                      "violin, viola, cello, double_bass, other");
    if (!o.body_length.empty())
        instrument->body_length_mm =
            typed_number(o.body_length, "--body-length", ledger::k_body_length);
    if (auto fault = put_right(store, [&] { return bench::correct(store, *instrument); }))
        return *fault;
    return fmt::format(
        "“{}” is a {}{} now.", instrument->label, modes::to_text(instrument->kind),
        instrument->body_length_mm ? fmt::format(" of {} mm", *instrument->body_length_mm) : "");
}

base::Fault no_such(const char* what, std::size_t number, const Found& found, std::size_t count) {
    return {fmt::format("There is no {} {} in {}; it has {}. Nothing was changed.", what, number,
                        found.name(), count)};
}

std::string list_of_taps(const Found& found) {
    Table table({"tap", "verdict", "spot", "peak dBFS"});
    for (std::size_t i = 0; i < found.one().taps.size(); ++i) {
        const ledger::TapRecord& tap = found.one().taps[i];
        table.row({std::to_string(i + 1), std::string(taps::to_text(tap.verdict)),
                   std::string(taps::to_word(tap.spot)), base::fixed(tap.peak_dbfs, 1)});
    }
    return table.text();
}

Done correct_tap(ledger::Store& store, const CorrectOptions& o) {
    const auto found = find(store, o, true);
    if (!found)
        return found.fault();
    const auto& taps = found->one().taps;
    if (o.numbers.empty() || (o.spot.empty() && !o.withdraw))
        return list_of_taps(*found);
    for (const std::size_t number : o.numbers)
        if (number < 1 || number > taps.size())
            return no_such("tap", number, *found, taps.size());
    const std::optional<taps::Spot> said = taps::spot_from_text(o.spot);
    if (!o.spot.empty() && !said)
        return base::Fault{fmt::format(
            "“{}” is no spot, such as centre or upper_bout_left. Nothing was changed.", o.spot)};
    const taps::Spot spot = said.value_or(taps::Spot::unknown);
    const auto fault = put_right(store, [&] {
        bench::Corrected corrected;
        for (const std::size_t number : o.numbers) { // all of one session, found anew once
            const ledger::Id tap = taps[number - 1].id;
            corrected = o.withdraw ? bench::correct(store, bench::command::Bin{"tap", tap})
                                   : bench::correct(store, bench::command::SetSpot{tap, spot});
        }
        return corrected;
    });
    if (fault)
        return *fault;
    const std::string which = o.numbers.size() == 1 ? fmt::format("Tap {}", o.numbers.front())
                                                    : fmt::format("{} taps", o.numbers.size());
    return o.withdraw ? fmt::format("{} withdrawn from {}; `platewright bin` puts back.", which,
                                    found->name())
                      : fmt::format("{} struck at {} now, in {}.", which, taps::to_word(spot),
                                    found->name());
}

std::string list_of_readings(const Found& found) {
    Table table({"reading", "x mm", "y mm", "thickness mm", "place"});
    const auto& readings = found.one().thickness.readings;
    for (std::size_t i = 0; i < readings.size(); ++i)
        table.row({std::to_string(i + 1), base::signed_fixed(readings[i].at.x_mm, 1),
                   base::fixed(readings[i].at.y_mm, 1), base::fixed(readings[i].thickness_mm, 2),
                   readings[i].name});
    return table.empty() ? fmt::format("No caliper readings in {}.", found.name()) : table.text();
}

Done correct_map(ledger::Store& store, const CorrectOptions& o) {
    const auto found = find(store, o, true);
    if (!found)
        return found.fault();
    const std::size_t count = found->one().thickness.readings.size();
    if (!o.take_out && o.numbers.empty())
        return list_of_readings(*found);
    std::vector<std::size_t> which;
    for (const std::size_t number : o.numbers) {
        if (number < 1 || number > count)
            return no_such("reading", number, *found, count);
        which.push_back(number - 1);
    }
    for (std::size_t i = 0; o.take_out && i < count; ++i)
        which.push_back(i);
    if (auto fault = put_right(store, [&] {
            return bench::correct(store,
                                  bench::command::TakeOutReadings{found->one().session.id, which});
        }))
        return *fault;
    return o.take_out ? fmt::format("The map was taken out of {}.", found->name())
                      : fmt::format("{} of {} readings were taken out of {}.", which.size(), count,
                                    found->name());
}

using Correction = Done (*)(ledger::Store&, const CorrectOptions&);

ExitCode run_correction(const CorrectOptions& o, const Common& common, const char* kind,
                        Correction act) {
    if (const auto known = open_to_read(common.ledger_folder()); !known) {
        complain(known.fault().what);
        return k_nothing_found;
    }
    ledger::Store store = open_to_write(common.ledger_folder());
    const Done done = act(store, o);
    if (!done) {
        complain(done.fault().what);
        return k_unusable;
    }
    if (common.json)
        print({{"schema", "platewright.correct/1"}, {"kind", kind}, {"text", *done}}, true);
    else
        say(*done);
    return k_done;
}

void finish_correct(CLI::App& command, Common& common, Chosen& chosen,
                    std::shared_ptr<CorrectOptions> o, const char* kind, Correction act) {
    const bool of_instrument = std::string_view(kind) == "instrument";
    command
        .add_option(of_instrument ? "INSTRUMENT" : "PLATE", o->plate,
                    of_instrument ? "The instrument, by name or number"
                                  : "The plate, by name or number")
        ->required();
    add_ledger(command, common);
    add_json(command, common);
    command.callback([&chosen, &common, o, kind, act] {
        chosen = [&common, o, kind, act] { return run_correction(*o, common, kind, act); };
    });
}

} // namespace

void add_correct(CLI::App& app, Common& common, Chosen& chosen) {
    auto* correct = app.add_subcommand("correct", "Put right what was entered in the wrong place");
    correct->footer(
        "What is put right reads as if it had been entered so from the start. Without anything to "
        "put right, `tap` and\n"
        "`map` list what there is.\n\n"
        "  platewright correct session \"Wren back\" --session 2026-03-14 --to \"Wren top\"\n"
        "  platewright correct session \"Wren back\" --session 12 --when 15.3.2026\n"
        "  platewright correct session \"Wren back\" --session 12 --mass 103.2 --humidity 45\n"
        "  platewright correct plate \"Wren back\" --instrument Heron\n"
        "  platewright correct instrument Wren --kind viola --body-length 405\n"
        "  platewright correct tap \"Wren back\" --tap 3 --spot lower_end\n"
        "  platewright correct tap \"Wren back\" --tap 3 --tap 7 --withdraw\n"
        "  platewright correct map \"Wren back\" --reading 4");
    correct->require_subcommand(1);
    auto o = std::make_shared<CorrectOptions>();
    const auto session_of = [&o](CLI::App& command) {
        command.add_option("--session", o->session, "The session, by date or number [the newest]")
            ->type_name("SESSION");
    };

    auto* session =
        correct->add_subcommand("session", "Move a session to another plate, or to another day");
    session_of(*session);
    session->add_option("--to", o->to, "The plate it was")->type_name("PLATE");
    session->add_option("--when", o->when, "The day, or day and time, it was")->type_name("DATE");
    session->add_option("--mass", o->mass, "What it weighed, in g")->type_name("G");
    session->add_option("--stage", o->stage, "How far the work was")->type_name("STAGE");
    session->add_option("--temperature", o->temperature, "Room temperature in °C")->type_name("C");
    session->add_option("--humidity", o->humidity, "Relative humidity in %")->type_name("PCT");
    finish_correct(*session, common, chosen, o, "session", correct_session);

    auto* plate = correct->add_subcommand(
        "plate", "Give a plate to another instrument, or another name or part");
    plate->add_option("--instrument", o->instrument, "The instrument it is of, by name or number")
        ->type_name("NAME");
    plate->add_option("--label", o->label, "What it is called")->type_name("NAME");
    plate->add_option("--part", o->part, "top, back or body")->type_name("PART");
    finish_correct(*plate, common, chosen, o, "plate", correct_plate);

    auto* instrument =
        correct->add_subcommand("instrument", "Put an instrument's name, kind or length right");
    instrument->add_option("--label", o->label, "What it is called")->type_name("NAME");
    instrument->add_option("--kind", o->kind, "violin, viola, cello, double_bass or other")
        ->type_name("KIND");
    instrument
        ->add_option("--body-length", o->body_length,
                     "Length of the body in mm: of small sizes, violas, basses")
        ->type_name("MM");
    finish_correct(*instrument, common, chosen, o, "instrument", correct_instrument);

    auto* tap = correct->add_subcommand("tap", "Withdraw taps, or say where they were struck");
    session_of(*tap);
    tap->add_option("--tap", o->numbers,
                    "A tap by its number in the session; may be given several times")
        ->allow_extra_args(false)
        ->type_name("N");
    auto* spot = tap->add_option("--spot", o->spot, "Where it was struck")->type_name("SPOT");
    tap->add_flag("--withdraw", o->withdraw, "Put it into the bin")->excludes(spot);
    finish_correct(*tap, common, chosen, o, "tap", correct_tap);

    auto* map = correct->add_subcommand("map", "Take caliper readings out, or a whole map");
    session_of(*map);
    map->add_option("--reading", o->numbers,
                    "A reading by its number in the list; may be given several times")
        ->allow_extra_args(false)
        ->type_name("N");
    map->add_flag("--all", o->take_out, "The whole map");
    finish_correct(*map, common, chosen, o, "map", correct_map);
}

} // namespace platewright::cli
