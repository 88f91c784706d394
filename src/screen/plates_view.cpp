#include "screen/plates_view.hpp"

#include "base/text.hpp"
#include "screen/bench/plate_side.hpp"
#include "screen/fields.hpp"
#include "screen/parts.hpp"
#include "trends/lookup.hpp"

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
std::vector<TableRow> rows_of(const Sight& sight, const std::string& search, ledger::Id shown) {
    const auto& open = sight.now.plate;
    std::vector<TableRow> rows;
    for (const ledger::InstrumentSummary& summary : std::views::reverse(*sight.now.instruments)) {
        if (!trends::answers_to(summary, search)) {
            continue;
        }
        const ledger::InstrumentRecord& instrument = summary.instrument;
        const Cell whose{instrument.label + ", " + kind_text(instrument.kind)};
        if (summary.plates.empty()) {
            rows.push_back({-instrument.id,
                            shown == instrument.id,
                            {whose, {std::string(say("no plate yet"))}, {}, {}, {}}});
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

void PlatesView::draw(const Sight& sight, Box area) {
    const double scale = sight.look.scale;
    go_on(sight);
    keys(sight);
    if (std::exchange(to_top_, false)) {
        scroll_up(sight);
    }
    const bool nothing = !sight.now.instruments || sight.now.instruments->empty();
    if (nothing && std::holds_alternative<std::monostate>(draft_)) {
        if (invitation(sight, area, say("An empty ledger"),
                       say("Everything begins with an instrument: a label, its kind, and then its "
                           "top and back as you come to work on them."),
                       say("Enter an instrument"), "I")) {
            begin(InstrumentDraft(ledger::InstrumentRecord{}));
        }
        return;
    }
    const bool writing = !std::holds_alternative<std::monostate>(draft_);
    if (sight.stacks && !writing &&
        (!chosen_ ||
         (!sight.now.plate && !instrument_shown(sight)))) { // one at a time: the list may be long
        list(sight, next_column(sight, area, 0.0));
        return;
    }
    if (!sight.stacks) {
        // The page needs its lines of sessions whole; what the table lacks it takes in height.
        const double width = area.width() < 1000.0 * scale ? 420.0 * scale : 0.53 * area.width();
        list(sight, next_column(sight, area, std::min(width, 760.0 * scale)));
    }
    const Page open(sight, "open", next_column(sight, area, area.width()));
    page(sight);
}

void PlatesView::page(const Sight& sight) {
    if (!std::holds_alternative<std::monostate>(draft_)) {
        form(sight);
    } else if (const auto* bare = instrument_shown(sight)) {
        bare_instrument(sight, bare->instrument);
    } else if (sight.now.plate) {
        open_plate(sight);
    } else {
        heading(sight, say("No plate on the bench"));
        text(sight,
             say("Choose a plate at the left, or give an instrument its first one: it comes onto "
                 "the bench, and its sessions show here."));
        away_.draw_back(sight);
    }
}

/// A new instrument has no plate yet: its first is asked for as soon as the ledger has it.
void PlatesView::go_on(const Sight& sight) {
    if (!newer_than_ || highest_id(sight.now) <= *newer_than_) {
        return;
    }
    newer_than_.reset();
    instrument_shown_ = highest_id(sight.now); // should the form be left
    begin_plate(instrument_shown_);
}

void PlatesView::keys(const Sight& sight) {
    if (!std::holds_alternative<std::monostate>(draft_)) {
        return;
    }
    if (sight.keys.take(U'i')) {
        begin(InstrumentDraft(ledger::InstrumentRecord{}));
    } else if (const auto* bare = instrument_shown(sight); bare && sight.keys.take(U'p')) {
        begin_plate(bare->instrument.id);
    } else if (sight.keys.take(U'p') && sight.now.plate) {
        begin_plate(sight.now.plate->history.instrument.id);
    } else if (sight.keys.take(U'n') && sight.now.plate) {
        begin_session(sight);
        sight.place = Place::bench;
    }
}

void PlatesView::list(const Sight& sight, const Box& box) {
    const Page page(sight, "all", box);
    field(sight, say("look for: label, kind, wood, notes"), search_);
    if (flow_press(sight, say("New instrument"), "I")) {
        begin(InstrumentDraft(ledger::InstrumentRecord{}));
    }
    if (!sight.now.instruments) {
        return;
    }
    const std::vector<TableRow> rows =
        rows_of(sight, search_, instrument_shown(sight) ? instrument_shown_ : 0);
    if (rows.empty()) {
        faint_text(sight, sight.now.instruments->empty()
                              ? say("Nothing here yet: begin with a new instrument.")
                              : say("Nothing in the ledger answers to these words."));
        return;
    }
    const std::array heads{
        TableHead{std::string(say("instrument"))}, TableHead{std::string(say("plate"))},
        TableHead{std::string(say("sessions"))}, TableHead{std::string(say("newest session"))},
        TableHead{std::string(say("stage"))}};
    if (const auto pressed = table(sight, "plates", heads, rows, sorting_)) {
        draft_ = std::monostate();
        chosen_ = true;
        instrument_shown_ = std::max<ledger::Id>(0, -*pressed);
        scroll_up(sight);
        if (*pressed > 0) {
            sight.send(bench::command::OpenPlate{*pressed});
        }
    }
}

void PlatesView::begin_plate(ledger::Id instrument) {
    ledger::PlateRecord plate;
    plate.instrument = instrument;
    begin(PlateDraft(plate));
}

const ledger::InstrumentSummary* PlatesView::instrument_shown(const Sight& sight) const {
    if (!sight.now.instruments || instrument_shown_ == 0) {
        return nullptr;
    }
    const auto found = std::ranges::find(*sight.now.instruments, instrument_shown_,
                                         [](const auto& one) { return one.instrument.id; });
    return found == sight.now.instruments->end() || !found->plates.empty() ? nullptr : &*found;
}

/// An instrument without a plate.
void PlatesView::bare_instrument(const Sight& sight, const ledger::InstrumentRecord& instrument) {
    back_to_list(sight);
    heading(sight, instrument.label + ", " + kind_text(instrument.kind));
    if (!instrument.notes.empty()) {
        faint_text(sight, instrument.notes);
    }
    if (flow_press(sight, say("New plate"), "P", true)) {
        begin_plate(instrument.id);
    }
    if (flow_press(sight, say("Change the instrument"), {}, false, true)) {
        begin(InstrumentDraft(instrument));
    }
}

void PlatesView::back_to_list(const Sight& sight) {
    if (sight.stacks &&
        (flow_press(sight, say("All plates"), "Esc") || sight.keys.take(Key::escape))) {
        chosen_ = false;
        scroll_up(sight);
    }
}

void PlatesView::form(const Sight& sight) {
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
        sight.send(command(*finished));
    };
    if (auto* instrument = std::get_if<InstrumentDraft>(&draft_)) {
        answer = instrument_form(sight, *instrument, complaint_, fresh_);
        settle(*instrument, [](const auto& r) { return bench::command::SaveInstrument{r}; });
        if (answer == FormAnswer::save && instrument->record.id == 0) {
            newer_than_ = highest_id(sight.now);
        }
    } else if (auto* plate = std::get_if<PlateDraft>(&draft_)) {
        answer = plate_form(sight, *plate, complaint_, fresh_);
        settle(*plate, [](const auto& r) { return bench::command::SavePlate{r}; });
        if (answer == FormAnswer::save && plate->record.id != 0 &&
            plate->instrument != plate->record.instrument) {
            sight.send(bench::command::MovePlate{plate->record.id, plate->instrument});
        }
        if (answer == FormAnswer::save && plate->record.id == 0) {
            sight.place = Place::bench; // where the new plate lies now
        }
    } else if (auto* session = std::get_if<SessionDraft>(&draft_)) {
        answer = session_form(sight, *session, complaint_, fresh_);
        settle(*session, [](const auto& r) { return bench::command::SaveSession{r}; });
        if (answer == FormAnswer::save) {
            correct(sight, *session);
        }
    }
    fresh_ = false;
    if (answer != FormAnswer::open) {
        draft_ = std::monostate();
    }
}

/// What the record alone does not put right: its day, and whose it is.
void PlatesView::correct(const Sight& sight, const SessionDraft& draft) {
    if (const auto begun = draft.typed_begun(); begun && *begun) {
        sight.send(bench::command::SetBegun{draft.record.id, **begun});
    }
    if (draft.moved_to != draft.record.plate) {
        sight.send(bench::command::MoveSession{draft.record.id, draft.moved_to});
    }
}

void PlatesView::open_plate(const Sight& sight) {
    const ledger::PlateHistory& history = sight.now.plate->history;
    const ledger::PlateRecord& plate = history.plate;
    back_to_list(sight);
    heading(sight, plate_name(history.instrument, plate));
    std::string facts = what_plate(history.instrument.kind, plate.part);
    if (!plate.wood.empty()) {
        facts += ", " + plate.wood;
    }
    if (plate.density_kg_m3) {
        facts += ", " + figure(*plate.density_kg_m3, 0) + " kg/m\u00b3";
    }
    text(sight, facts);
    if (!plate.notes.empty()) {
        faint_text(sight, plate.notes);
    }
    if (flow_press(sight, say("Tap it"), "F1", true)) {
        sight.place = Place::bench;
    }
    if (flow_press(sight, say("New session"), "N", false, true)) {
        begin_session(sight);
        sight.place = Place::bench;
    }
    if (flow_press(sight, say("Change"), {}, false, true)) {
        begin(PlateDraft(plate));
    }
    if (flow_press(sight, say("New plate"), "P", false, true)) {
        begin_plate(history.instrument.id);
    }
    if (flow_press(sight, say("Change the instrument"), {}, false, true)) {
        begin(InstrumentDraft(history.instrument));
    }
    if (flow_press(sight, say("Put away"), {}, false, true)) {
        away_.put(sight, "plate", plate.id, plate.label);
    }
    if (auto correction = sessions_.draw(sight, away_)) {
        begin(std::move(*correction));
    }
}

} // namespace platewright::screen
