#include "bench/session/correct.hpp"

#include "base/failure.hpp"
#include "base/text.hpp"
#include "bench/workbench.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find.hpp"
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
    FieldOptions<ledger::SessionRecord> of_session;
    FieldOptions<ledger::PlateRecord> of_plate;
    FieldOptions<ledger::InstrumentRecord> of_instrument;
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

Found find(const ledger::Store& store, const CorrectOptions& o, bool with_session) {
    Found found{needed(find_history(store, o.plate), k_unusable)};
    if (with_session)
        found.session = needed(find_session(found.history, o.session), k_unusable);
    return found;
}

/// As the window does it: all that rests on it follows. `act` gives what it corrected.
template <class Act>
void put_right(ledger::Store& store, const Act& act) {
    try {
        bench::Workbench(store, {}).heal(act());
    } catch (const bench::CannotBe& refused) {
        throw Refusal{refused.what(), k_unusable};
    }
}

Refusal nothing_said(const std::string& options) {
    return {fmt::format("Say what is to be put right of it: {}. Nothing was changed.", options),
            k_unusable};
}

std::string correct_session(ledger::Store& store, const CorrectOptions& o) {
    if (!o.of_session.any() && o.when.empty() && o.to.empty())
        throw nothing_said(o.of_session.names() + ", --when or --to");
    const Found found = find(store, o, true);
    ledger::SessionRecord session = o.of_session.put_into(found.one().session);
    const bool has_values = session != found.one().session;
    std::string to;
    if (!o.when.empty())
        session.begun = typed_moment(o.when, "--when");
    if (!o.to.empty()) {
        const ledger::PlateRecord plate = needed(find_plate(store, o.to), k_unusable);
        session.plate = plate.id;
        to = plate.label;
    }
    const bool is_day_alone = !has_values && to.empty();
    put_right(store, [&] {
        return is_day_alone
                   ? bench::correct(store, bench::command::SetBegun{session.id, session.begun})
                   : bench::correct(store, session);
    });
    std::vector<std::string> said;
    if (has_values)
        said.push_back(fmt::format("Corrected: {}.", found.name()));
    if (!o.when.empty())
        said.push_back(fmt::format("Begun on {} now: {}.", base::local_date_time(session.begun),
                                   found.name()));
    if (!to.empty())
        said.push_back(fmt::format("Moved to “{}”: {}.", to, found.name()));
    return fmt::to_string(fmt::join(said, " "));
}

std::string correct_plate(ledger::Store& store, const CorrectOptions& o) {
    if (!o.of_plate.any() && o.instrument.empty())
        throw nothing_said(o.of_plate.names() + " or --instrument");
    const Found found = find(store, o, false);
    std::optional<ledger::InstrumentRecord> instrument;
    if (!o.instrument.empty()) // before anything is changed
        instrument = needed(find_instrument(store, o.instrument), k_unusable);
    std::string said;
    if (o.of_plate.any()) {
        const ledger::PlateRecord plate = o.of_plate.put_into(found.history.plate);
        put_right(store, [&] { return bench::correct(store, plate); });
        said = fmt::format("“{}” is the {} “{}” now.", found.history.plate.label,
                           modes::to_text(plate.part), plate.label);
    }
    if (!instrument)
        return said;
    put_right(store, [&] {
        return bench::correct(store,
                              bench::command::MovePlate{found.history.plate.id, instrument->id});
    });
    return fmt::format("{}{}“{}” belongs to “{}” now, no more to “{}”.", said,
                       said.empty() ? "" : " ", found.history.plate.label, instrument->label,
                       found.history.instrument.label);
}

std::string correct_instrument(ledger::Store& store, const CorrectOptions& o) {
    if (!o.of_instrument.any())
        throw nothing_said(o.of_instrument.names());
    const ledger::InstrumentRecord instrument =
        o.of_instrument.put_into(needed(find_instrument(store, o.plate), k_unusable));
    put_right(store, [&] { return bench::correct(store, instrument); });
    return fmt::format(
        "“{}” is a {}{} now.", instrument.label, modes::to_text(instrument.kind),
        instrument.body_length_mm ? fmt::format(" of {} mm", *instrument.body_length_mm) : "");
}

Refusal no_such(const char* what, std::size_t number, const Found& found, std::size_t count) {
    return {fmt::format("There is no {} {} in {}; it has {}. Nothing was changed.", what, number,
                        found.name(), count),
            k_unusable};
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

std::string correct_tap(ledger::Store& store, const CorrectOptions& o) {
    const Found found = find(store, o, true);
    const auto& taps = found.one().taps;
    if (o.numbers.empty() || (o.spot.empty() && !o.withdraw))
        return list_of_taps(found);
    for (const std::size_t number : o.numbers)
        if (number < 1 || number > taps.size())
            throw no_such("tap", number, found, taps.size());
    const std::optional<taps::Spot> said = taps::spot_from_text(o.spot);
    if (!o.spot.empty() && !said)
        throw Refusal{
            fmt::format("“{}” is no spot, such as centre or upper_bout_left. Nothing was changed.",
                        o.spot),
            k_unusable};
    const taps::Spot spot = said.value_or(taps::Spot::unknown);
    put_right(store, [&] {
        bench::Corrected corrected;
        for (const std::size_t number : o.numbers) { // all of one session, found anew once
            const ledger::Id tap = taps[number - 1].id;
            corrected = o.withdraw ? bench::correct(store, bench::command::Bin{"tap", tap})
                                   : bench::correct(store, bench::command::SetSpot{tap, spot});
        }
        return corrected;
    });
    const std::string which = o.numbers.size() == 1 ? fmt::format("Tap {}", o.numbers.front())
                                                    : fmt::format("{} taps", o.numbers.size());
    return o.withdraw ? fmt::format("{} withdrawn from {}; `platewright bin` puts back.", which,
                                    found.name())
                      : fmt::format("{} struck at {} now, in {}.", which, taps::to_word(spot),
                                    found.name());
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

std::string correct_map(ledger::Store& store, const CorrectOptions& o) {
    const Found found = find(store, o, true);
    const std::size_t count = found.one().thickness.readings.size();
    if (!o.take_out && o.numbers.empty())
        return list_of_readings(found);
    std::vector<std::size_t> which;
    for (const std::size_t number : o.numbers) {
        if (number < 1 || number > count)
            throw no_such("reading", number, found, count);
        which.push_back(number - 1);
    }
    for (std::size_t i = 0; o.take_out && i < count; ++i)
        which.push_back(i);
    put_right(store, [&] {
        return bench::correct(store,
                              bench::command::TakeOutReadings{found.one().session.id, which});
    });
    return o.take_out ? fmt::format("The map was taken out of {}.", found.name())
                      : fmt::format("{} of {} readings were taken out of {}.", which.size(), count,
                                    found.name());
}

using Correction = std::string (*)(ledger::Store&, const CorrectOptions&);

ExitCode run_correction(const CorrectOptions& o, const Common& common, const char* kind,
                        Correction act) {
    needed(open_to_read(common.ledger_folder()));
    ledger::Store store = open_to_write(common.ledger_folder());
    const std::string done = act(store, o);
    if (common.json)
        print({{"schema", "platewright.correct/1"}, {"kind", kind}, {"text", done}});
    else
        say(done);
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
    finish(command, common, chosen, o, [kind, act](const CorrectOptions& given, const Common& all) {
        return run_correction(given, all, kind, act);
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
        option(command, "--session", o->session, "The session, by date or number [the newest]",
               "SESSION");
    };

    auto* session =
        correct->add_subcommand("session", "Move a session to another plate, or to another day");
    session_of(*session);
    option(*session, "--to", o->to, "The plate it was", "PLATE");
    option(*session, "--when", o->when, "The day, or day and time, it was", "DATE");
    o->of_session.add_to(*session);
    finish_correct(*session, common, chosen, o, "session", correct_session);

    auto* plate = correct->add_subcommand(
        "plate", "Give a plate to another instrument, or another name or part");
    option(*plate, "--instrument", o->instrument, "The instrument it is of, by name or number",
           "NAME");
    o->of_plate.add_to(*plate);
    finish_correct(*plate, common, chosen, o, "plate", correct_plate);

    auto* instrument =
        correct->add_subcommand("instrument", "Put an instrument's name, kind or length right");
    o->of_instrument.add_to(*instrument);
    finish_correct(*instrument, common, chosen, o, "instrument", correct_instrument);

    auto* tap = correct->add_subcommand("tap", "Withdraw taps, or say where they were struck");
    session_of(*tap);
    repeated(*tap, "--tap", o->numbers,
             "A tap by its number in the session; may be given several times", "N");
    auto* spot = option(*tap, "--spot", o->spot, "Where it was struck", "SPOT");
    tap->add_flag("--withdraw", o->withdraw, "Put it into the bin")->excludes(spot);
    finish_correct(*tap, common, chosen, o, "tap", correct_tap);

    auto* map = correct->add_subcommand("map", "Take caliper readings out, or a whole map");
    session_of(*map);
    repeated(*map, "--reading", o->numbers,
             "A reading by its number in the list; may be given several times", "N");
    map->add_flag("--all", o->take_out, "The whole map");
    finish_correct(*map, common, chosen, o, "map", correct_map);
}

} // namespace platewright::cli
