#include "base/text.hpp"
#include "ledger/store.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find.hpp"
#include "main/json.hpp"
#include "main/plate/caliper_text.hpp"
#include "main/plate/form_options.hpp"
#include "main/plate/hand_options.hpp"
#include "screen/draw/plate_pictures.hpp"
#include "trends/model/plate_form.hpp"
#include "trends/model/plate_study.hpp"
#include "trends/review/map_review.hpp"

#include <fmt/format.h>
#include <memory>

namespace platewright::cli {
namespace {

struct CaliperOptions {
    std::string plate, session;
    std::filesystem::path file, chart;
    std::vector<std::string> pins, flexes;
    std::vector<ledger::Id> unpinned, unflexed;
    FormOptions form;
    bool by_hand() const {
        return !pins.empty() || !flexes.empty() || !unpinned.empty() || !unflexed.empty();
    }
};

/// The model is fitted only where there is a flex reading to set beside it.
std::vector<trends::FlexCheck> flexes_beside_model(const ledger::PlateHistory& history,
                                                   std::size_t session) {
    if (history.sessions[session].flex.empty())
        return {};
    const auto study = trends::study_plate(history, session);
    return study ? study->flexes : std::vector<trends::FlexCheck>{};
}

base::Result<std::vector<plate::ThicknessReading>> readings_of(const std::filesystem::path& file,
                                                               const ledger::FormRecord& form) {
    const auto text = read_text(file);
    if (!text)
        return text.fault();
    return plate::thickness_from_csv(*text, *trends::outline_of(form));
}

/// Takes in what the command line brings: all of it, or nothing.
void take_in_readings(const CaliperOptions& o, const std::filesystem::path& folder) {
    ledger::Store store = open_to_change(folder, "Nothing was stored.");
    const ledger::Id plate = needed(find_plate(store, o.plate)).id;
    const ledger::PlateHistory history = store.history(plate).value();
    if (history.plate.part == modes::Part::body)
        throw Refusal{trends::body_has_none().what, k_unusable};
    const ledger::FormRecord form = needed(form_with(trends::form_of(history), o.form), k_unusable);
    std::vector<plate::ThicknessReading> readings;
    HandReadings hand;
    std::size_t session = 0;
    if (!o.file.empty() || o.by_hand()) {
        session = needed(find_session(history, o.session));
        hand = needed(hand_readings(history.sessions[session], *trends::outline_of(form), o.pins,
                                    o.flexes, o.unpinned, o.unflexed),
                      k_unusable);
    }
    if (!o.file.empty())
        readings = needed(readings_of(o.file, form), k_unusable);
    if (const auto fault = readings.empty() ? trends::fault_in(form, history) : std::nullopt)
        throw Refusal{fault->what, k_unusable};
    if (o.form.any() || !history.form)
        store.set_form(plate, form);
    if (!readings.empty())
        store.set_thickness(history.sessions[session].session.id, readings);
    for (const ledger::PinRecord& pin : hand.pins)
        store.add(pin);
    for (const ledger::FlexRecord& flex : hand.flexes)
        store.add(flex);
    for (const ledger::Id id : o.unpinned)
        store.bin("pin", id);
    for (const ledger::Id id : o.unflexed)
        store.bin("flex", id);
}

ExitCode caliper(const CaliperOptions& o, const Common& common) {
    needed(open_to_read(common.ledger_folder()));
    if (!o.file.empty() || o.form.any() || o.by_hand())
        take_in_readings(o, common.ledger_folder());
    const ledger::Store store = needed(open_to_read(common.ledger_folder()));
    const ledger::PlateHistory history = needed(find_history(store, o.plate));
    const std::size_t session = needed(find_session(history, o.session));
    // without a session named, the newest that has a map
    const auto shown =
        o.session.empty() ? trends::session_with_map(history, session) : std::optional(session);
    if (!shown) {
        complain(fmt::format("“{}” has no caliper readings yet{}.", history.plate.label,
                             o.form.any() || o.by_hand() ? "; what was given is kept"
                                                         : ": give a file of them"));
        return o.form.any() || o.by_hand() ? k_done : k_nothing_found;
    }
    const ShownMap map{history, needed(trends::review_map(history, *shown)),
                       flexes_beside_model(history, *shown)};
    common.json ? print_json(map) : print_text(map);
    if (!o.chart.empty()) {
        auto picture = screen::thickness_picture(map.review, history.form->two_piece);
        picture.title = fmt::format("{}, {}", history.plate.label,
                                    base::local_date(history.sessions[*shown].session.begun));
        draw_chart(picture, o.chart, common, "map");
    }
    return k_done;
}

} // namespace

void add_caliper(CLI::App& app, Common& common, Chosen& chosen) {
    auto* command = app.add_subcommand("caliper", "Take a thickness map in, and describe it");
    command->footer(
        "FILE holds a reading a line: x, y and thickness in mm, or a place's name and the "
        "thickness; x from the\n"
        "centre line, positive to the right as seen from the outside, y from the lower end. "
        "Without FILE the\n"
        "map that is kept is described. Bad readings are named, and then nothing is stored.\n\n"
        "  platewright caliper \"Wren back\" readings.csv --length 355 --upper 168 --waist 112 "
        "--lower 207\n"
        "  platewright caliper \"Wren back\" --chart wren-map.pdf");
    auto o = std::make_shared<CaliperOptions>();
    add_plate(*command, o->plate);
    command->add_option("FILE", o->file, "Caliper readings (.csv)");
    add_session(*command, o->session);
    add_form_options(*command, o->form);
    const std::string group = "By hand and eye (kept with the session)";
    repeated(*command, "--pin", o->pins, "A note pinned to a place: in mm, or by a place's name",
             "X:Y:WORDS|PLACE:WORDS")
        ->group(group);
    repeated(*command, "--flex", o->flexes,
             "How far the plate gives: KIND is lengthwise, crosswise or twist; mm, g, mm",
             "KIND:SPAN:LOAD:DEFLECTION")
        ->group(group);
    repeated(*command, "--unpin", o->unpinned, "Put a pin into the bin, by its number", "N")
        ->group(group);
    repeated(*command, "--unflex", o->unflexed, "Put a flex reading into the bin, by its number",
             "N")
        ->group(group);
    add_chart(*command, o->chart, "Draw the map");
    finish(*command, common, chosen, o, caliper);
}

} // namespace platewright::cli
