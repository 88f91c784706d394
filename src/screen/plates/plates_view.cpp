#include "screen/plates/plates_view.hpp"

#include "base/text.hpp"
#include "screen/bench/plate_side.hpp"
#include "screen/draw/parts.hpp"
#include "screen/fields/fields.hpp"
#include "trends/plate_name.hpp"

#include <algorithm>
#include <array>
#include <ranges>
#include <utility>

namespace platewright::screen {
namespace {
using plot::Box;

ledger::Id highest_id(const bench::Snapshot& now) {
    ledger::Id highest = 0;
    if (now.instruments) {
        for (const ledger::InstrumentSummary& instrument : *now.instruments) {
            highest = std::max(highest, instrument.instrument.id);
        }
    }
    return highest;
}

std::string plate_words(const ledger::PlateRecord& plate) {
    const std::string part = part_text(plate.part);
    return plate.label.find(part) != std::string::npos ? plate.label : plate.label + ", " + part;
}

/// A row a plate, the newest instrument first, which is the one at work; an instrument without a
/// plate has a row under its own id, less than nothing.
std::vector<TableRow> rows_of(const ViewContext& context, const std::string& search,
                              ledger::Id shown) {
    const auto& open = context.now.plate;
    std::vector<TableRow> rows;
    for (const ledger::InstrumentSummary& summary : std::views::reverse(*context.now.instruments)) {
        if (!trends::answers_to(summary, search)) {
            continue;
        }
        const ledger::InstrumentRecord& instrument = summary.instrument;
        const Cell whose{instrument.label + ", " + kind_text(instrument.kind)};
        if (summary.plates.empty()) {
            rows.push_back({-instrument.id,
                            shown == instrument.id,
                            {whose, {say("no plate yet")}, {}, {}, {}}});
        }
        for (const ledger::PlateSummary& plate : summary.plates) {
            TableRow row{plate.plate.id,
                         shown == 0 && open && open->history.plate.id == plate.plate.id,
                         {whose, {plate_words(plate.plate)}}};
            row.cells.push_back(
                {std::to_string(plate.sessions), static_cast<double>(plate.sessions)});
            if (plate.newest) {
                row.cells.push_back({base::local_date(plate.newest->begun)});
                row.cells.push_back({std::string(modes::to_text(plate.newest->stage))});
            } else {
                row.cells.resize(5);
            }
            rows.push_back(std::move(row));
        }
    }
    return rows;
}

} // namespace

template <class Draft>
void PlatesView::begin(Draft draft) {
    draft_ = std::move(draft);
    complaint_.clear();
    fresh_ = true;
    to_top_ = true;
}

void PlatesView::draw(const ViewContext& context, Box area) {
    const double scale = context.look.scale;
    go_on(context);
    keys(context);
    if (std::exchange(to_top_, false)) {
        scroll_up(context);
    }
    const bool nothing = !context.now.instruments || context.now.instruments->empty();
    if (nothing && std::holds_alternative<std::monostate>(draft_)) {
        if (invitation(context, area, say("An empty ledger"),
                       say("Everything begins with an instrument: a label, its kind, and then its "
                           "top and back as you come to work on them."),
                       say("Enter an instrument"), "I")) {
            begin(InstrumentDraft(ledger::InstrumentRecord{}));
        }
        return;
    }
    const bool writing = !std::holds_alternative<std::monostate>(draft_);
    if (context.stacks && !writing &&
        (!chosen_ || (!context.now.plate &&
                      !instrument_shown(context)))) { // one at a time: the list may be long
        list(context, next_column(context, area, 0.0));
        return;
    }
    if (!context.stacks) {
        // The page needs its lines of sessions whole; what the table lacks it takes in height.
        const double width = area.width() < 1000.0 * scale ? 420.0 * scale : 0.53 * area.width();
        list(context, next_column(context, area, std::min(width, 760.0 * scale)));
    }
    const Page open(context, "open", next_column(context, area, area.width()));
    page(context);
}

void PlatesView::page(const ViewContext& context) {
    if (!std::holds_alternative<std::monostate>(draft_)) {
        form(context);
    } else if (const auto* bare = instrument_shown(context)) {
        bare_instrument(context, bare->instrument);
    } else if (context.now.plate) {
        open_plate(context);
    } else {
        heading(context, say("No plate on the bench"));
        text(context, say("Choose a plate at the left, or give an instrument its first one: it "
                          "comes onto the bench, and its sessions show here."));
        away_.draw_back(context);
    }
}

/// A new instrument has no plate yet: its first is asked for as soon as the ledger has it.
void PlatesView::go_on(const ViewContext& context) {
    if (!newer_than_ || highest_id(context.now) <= *newer_than_) {
        return;
    }
    newer_than_.reset();
    instrument_shown_ = highest_id(context.now); // should the form be left
    begin_plate(instrument_shown_);
}

void PlatesView::keys(const ViewContext& context) {
    if (!std::holds_alternative<std::monostate>(draft_)) {
        return;
    }
    if (context.keys.take(U'i')) {
        begin(InstrumentDraft(ledger::InstrumentRecord{}));
    } else if (const auto* bare = instrument_shown(context); bare && context.keys.take(U'p')) {
        begin_plate(bare->instrument.id);
    } else if (context.keys.take(U'p') && context.now.plate) {
        begin_plate(context.now.plate->history.instrument.id);
    } else if (context.keys.take(U'n') && context.now.plate) {
        begin_session(context);
        context.place = Place::bench;
    }
}

void PlatesView::list(const ViewContext& context, const Box& box) {
    const Page page(context, "all", box);
    field(context, say("look for: label, kind, wood, notes"), search_);
    if (flow_press(context, say("New instrument"), "I")) {
        begin(InstrumentDraft(ledger::InstrumentRecord{}));
    }
    if (!context.now.instruments) {
        return;
    }
    const std::vector<TableRow> rows =
        rows_of(context, search_, instrument_shown(context) ? instrument_shown_ : 0);
    if (rows.empty()) {
        faint_text(context, context.now.instruments->empty()
                                ? say("Nothing here yet: begin with a new instrument.")
                                : say("Nothing in the ledger answers to these words."));
        return;
    }
    const std::array heads{TableHead{say("instrument")}, TableHead{say("plate")},
                           TableHead{say("sessions")}, TableHead{say("newest session")},
                           TableHead{say("stage")}};
    if (const auto pressed = table(context, "plates", heads, rows, sorting_)) {
        draft_ = std::monostate();
        chosen_ = true;
        instrument_shown_ = std::max<ledger::Id>(0, -*pressed);
        scroll_up(context);
        if (*pressed > 0) {
            context.send(bench::command::OpenPlate{*pressed});
        }
    }
}

void PlatesView::begin_plate(ledger::Id instrument) {
    ledger::PlateRecord plate;
    plate.instrument = instrument;
    begin(PlateDraft(plate));
}

const ledger::InstrumentSummary* PlatesView::instrument_shown(const ViewContext& context) const {
    if (!context.now.instruments || instrument_shown_ == 0) {
        return nullptr;
    }
    const auto found = std::ranges::find(*context.now.instruments, instrument_shown_,
                                         [](const auto& one) { return one.instrument.id; });
    return found == context.now.instruments->end() || !found->plates.empty() ? nullptr : &*found;
}

/// An instrument without a plate.
void PlatesView::bare_instrument(const ViewContext& context,
                                 const ledger::InstrumentRecord& instrument) {
    back_to_list(context);
    heading(context, instrument.label + ", " + kind_text(instrument.kind));
    if (!instrument.notes.empty()) {
        faint_text(context, instrument.notes);
    }
    if (flow_press(context, say("New plate"), "P", true)) {
        begin_plate(instrument.id);
    }
    if (flow_press(context, say("Change the instrument"), {}, false, true)) {
        begin(InstrumentDraft(instrument));
    }
}

void PlatesView::back_to_list(const ViewContext& context) {
    if (context.stacks &&
        (flow_press(context, say("All plates"), "Esc") || context.keys.take(Key::escape))) {
        chosen_ = false;
        scroll_up(context);
    }
}

void PlatesView::form(const ViewContext& context) {
    FormAnswer answer = FormAnswer::open;
    const auto settle = [&](const auto& draft, auto command) {
        if (answer != FormAnswer::save) {
            return;
        }
        const auto finished = draft.finished();
        if (!finished) {
            complaint_ = {finished.fault().what, finished.at};
            answer = FormAnswer::open;
            return;
        }
        context.send(command(*finished));
    };
    if (auto* instrument = std::get_if<InstrumentDraft>(&draft_)) {
        answer = instrument_form(context, *instrument, complaint_, fresh_);
        settle(*instrument, [](const auto& r) { return bench::command::SaveInstrument{r}; });
        if (answer == FormAnswer::save && instrument->record.id == 0) {
            newer_than_ = highest_id(context.now);
        }
    } else if (auto* plate = std::get_if<PlateDraft>(&draft_)) {
        answer = plate_form(context, *plate, complaint_, fresh_);
        settle(*plate, [](const auto& r) { return bench::command::SavePlate{r}; });
        if (answer == FormAnswer::save && plate->record.id != 0 &&
            plate->instrument != plate->record.instrument) {
            context.send(bench::command::MovePlate{plate->record.id, plate->instrument});
        }
        if (answer == FormAnswer::save && plate->record.id == 0) {
            context.place = Place::bench; // where the new plate lies now
        }
    } else if (auto* session = std::get_if<SessionDraft>(&draft_)) {
        answer = session_form(context, *session, complaint_, fresh_);
        settle(*session, [](const auto& r) { return bench::command::SaveSession{r}; });
        if (answer == FormAnswer::save) {
            correct(context, *session);
        }
    }
    fresh_ = false;
    if (answer != FormAnswer::open) {
        draft_ = std::monostate();
    }
}

/// What the record alone does not put right: its day, and whose it is.
void PlatesView::correct(const ViewContext& context, const SessionDraft& draft) {
    if (const auto begun = draft.typed_begun(); begun && *begun) {
        context.send(bench::command::SetBegun{draft.record.id, **begun});
    }
    if (draft.moved_to != draft.record.plate) {
        context.send(bench::command::MoveSession{draft.record.id, draft.moved_to});
    }
}

void PlatesView::open_plate(const ViewContext& context) {
    const ledger::PlateHistory& history = context.now.plate->history;
    const ledger::PlateRecord& plate = history.plate;
    back_to_list(context);
    heading(context, plate_name(history.instrument, plate));
    std::string facts = what_plate(history.instrument.kind, plate.part);
    if (!plate.wood.empty()) {
        facts += ", " + plate.wood;
    }
    if (plate.density_kg_m3) {
        facts += ", " + figure(*plate.density_kg_m3, 0) + " kg/m\u00b3";
    }
    text(context, facts);
    if (!plate.notes.empty()) {
        faint_text(context, plate.notes);
    }
    if (flow_press(context, say("Tap it"), "F1", true)) {
        context.place = Place::bench;
    }
    if (flow_press(context, say("New session"), "N", false, true)) {
        begin_session(context);
        context.place = Place::bench;
    }
    if (flow_press(context, say("Change"), {}, false, true)) {
        begin(PlateDraft(plate));
    }
    if (flow_press(context, say("New plate"), "P", false, true)) {
        begin_plate(history.instrument.id);
    }
    if (flow_press(context, say("Change the instrument"), {}, false, true)) {
        begin(InstrumentDraft(history.instrument));
    }
    if (flow_press(context, say("Put away"), {}, false, true)) {
        away_.put(context, "plate", plate.id, plate.label);
    }
    if (auto correction = sessions_.draw(context, away_)) {
        begin(std::move(*correction));
    }
}

} // namespace platewright::screen
