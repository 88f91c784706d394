#include "screen/plates_view.hpp"

#include "base/text.hpp"
#include "screen/bench_view.hpp"
#include "screen/fields.hpp"
#include "screen/parts.hpp"

#include <algorithm>

namespace platewright::screen {
namespace {
using plot::Box;

std::string lower(std::string_view words) {
    std::string out(words);
    std::transform(out.begin(), out.end(), out.begin(),
                   [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; });
    return out;
}

/// Whether every word searched for stands somewhere in the instrument or one of its plates.
bool found(const ledger::InstrumentSummary& instrument, const std::string& search) {
    std::string all = instrument.instrument.label + " " + kind_text(instrument.instrument.kind) +
                      " " + instrument.instrument.notes;
    for (const ledger::PlateSummary& plate : instrument.plates) {
        all += " " + plate.plate.label + " " + part_text(plate.plate.part) + " " +
               plate.plate.wood + " " + plate.plate.notes;
    }
    all = lower(all);
    std::string_view rest = base::trimmed(search);
    while (!rest.empty()) {
        const std::size_t end = std::min(rest.find(' '), rest.size());
        if (all.find(lower(rest.substr(0, end))) == std::string::npos) {
            return false;
        }
        rest = base::trimmed(rest.substr(end));
    }
    return true;
}

std::string summary_line(const ledger::PlateSummary& plate) {
    std::string words =
        std::to_string(plate.sessions) + (plate.sessions == 1 ? " session" : " sessions");
    if (plate.newest) {
        words += ", " + base::local_date(plate.newest->begun) + ", " +
                 std::string(modes::to_text(plate.newest->stage));
    }
    return words;
}

std::string session_line(const ledger::SessionHistory& session) {
    const auto good = std::count_if(session.taps.begin(), session.taps.end(), [](const auto& tap) {
        return tap.verdict == taps::Verdict::accepted;
    });
    std::string words =
        std::to_string(good) + " good taps of " + std::to_string(session.taps.size());
    if (session.session.mass_g) {
        words += ", " + base::fixed(*session.session.mass_g, 1) + " g";
    }
    for (const ledger::ModeRecord& mode : session.modes) {
        if (mode.name) {
            words += ", mode " + std::to_string(mode.name->number) + " " +
                     base::fixed(mode.mode.frequency_hz, 1);
        }
    }
    return words;
}

} // namespace

template <class Draft>
void PlatesView::begin(Draft draft) {
    draft_ = std::move(draft);
    complaint_.clear();
    fresh_ = true;
}

void PlatesView::draw(const Sight& sight, Box area) {
    const double scale = sight.look.scale;
    keys(sight);
    const bool nothing = !sight.now.instruments || sight.now.instruments->empty();
    if (nothing && std::holds_alternative<std::monostate>(draft_)) {
        if (invitation(sight, area, "An empty ledger",
                       "Everything begins with an instrument: a label, its kind, and then its top "
                       "and back as you come to work on them.",
                       "Enter an instrument", "I")) {
            begin(InstrumentDraft(ledger::InstrumentRecord{}));
        }
        return;
    }
    list(sight, take_left(area, 420.0 * scale));
    take_left(area, 10.0 * scale);
    const Page page("open", area);
    if (!std::holds_alternative<std::monostate>(draft_)) {
        form(sight);
    } else if (sight.now.plate) {
        open_plate(sight);
    } else {
        heading(sight, "No plate on the bench");
        text(sight,
             "Choose a plate at the left: it comes onto the bench, and its sessions show here.");
    }
}

void PlatesView::keys(const Sight& sight) {
    if (!std::holds_alternative<std::monostate>(draft_)) {
        return;
    }
    if (sight.keys.take(U'i')) {
        begin(InstrumentDraft(ledger::InstrumentRecord{}));
    } else if (sight.keys.take(U'p') && sight.now.plate) {
        ledger::PlateRecord plate;
        plate.instrument = sight.now.plate->history.instrument.id;
        begin(PlateDraft(plate));
    } else if (sight.keys.take(U'n') && sight.now.plate) {
        begin_session(sight);
        sight.place = Place::bench;
    }
}

void PlatesView::list(const Sight& sight, const Box& box) {
    const Page page("all", box);
    field(sight, "look for: label, kind, wood", search_);
    if (flow_press(sight, "New instrument", "I")) {
        begin(InstrumentDraft(ledger::InstrumentRecord{}));
    }
    if (!sight.now.instruments) {
        return;
    }
    bool any = false;
    for (const ledger::InstrumentSummary& instrument : *sight.now.instruments) {
        if (found(instrument, search_)) {
            any = true;
            instrument_rows(sight, instrument);
        }
    }
    if (!any) {
        faint_text(sight, "Nothing in the ledger answers to these words.");
    }
}

void PlatesView::instrument_rows(const Sight& sight, const ledger::InstrumentSummary& summary) {
    const ledger::InstrumentRecord& instrument = summary.instrument;
    ImGui::PushID(static_cast<int>(instrument.id));
    if (row(sight, 0, instrument.label + ", " + kind_text(instrument.kind),
            summary.plates.empty() ? "no plates yet; press to change" : "press to change", false)) {
        begin(InstrumentDraft(instrument));
    }
    for (const ledger::PlateSummary& plate : summary.plates) {
        const bool open = sight.now.plate && sight.now.plate->history.plate.id == plate.plate.id;
        ImGui::PushID("plate");
        const std::string part = part_text(plate.plate.part);
        const std::string name = plate.plate.label == part ? part : plate.plate.label + ", " + part;
        if (row(sight, static_cast<int>(plate.plate.id), name, summary_line(plate), open, 26.0)) {
            draft_ = std::monostate();
            sight.send(bench::command::OpenPlate{plate.plate.id});
        }
        ImGui::PopID();
    }
    if (row(sight, 1, "+ a plate of this instrument", {}, false, 26.0)) {
        ledger::PlateRecord plate;
        plate.instrument = instrument.id;
        begin(PlateDraft(plate));
    }
    ImGui::PopID();
}

void PlatesView::form(const Sight& sight) {
    FormAnswer answer = FormAnswer::open;
    const auto settle = [&](const auto& draft, auto command) {
        if (answer != FormAnswer::save) {
            return;
        }
        const auto finished = draft.finished();
        if (!finished) {
            complaint_ = finished.fault().what;
            answer = FormAnswer::open;
            return;
        }
        sight.send(command(*finished));
    };
    if (auto* instrument = std::get_if<InstrumentDraft>(&draft_)) {
        answer = instrument_form(sight, *instrument, complaint_, fresh_);
        settle(*instrument, [](const auto& r) { return bench::command::SaveInstrument{r}; });
    } else if (auto* plate = std::get_if<PlateDraft>(&draft_)) {
        answer = plate_form(sight, *plate, complaint_, fresh_);
        settle(*plate, [](const auto& r) { return bench::command::SavePlate{r}; });
    } else if (auto* session = std::get_if<SessionDraft>(&draft_)) {
        answer = session_form(sight, *session, complaint_, fresh_);
        settle(*session, [](const auto& r) { return bench::command::SaveSession{r}; });
    }
    fresh_ = false;
    if (answer != FormAnswer::open) {
        draft_ = std::monostate();
    }
}

void PlatesView::open_plate(const Sight& sight) {
    const ledger::PlateHistory& history = sight.now.plate->history;
    const ledger::PlateRecord& plate = history.plate;
    heading(sight, history.instrument.label + ", " + plate.label);
    std::string facts = kind_text(history.instrument.kind) + " " + part_text(plate.part);
    if (!plate.wood.empty()) {
        facts += ", " + plate.wood;
    }
    if (plate.density_kg_m3) {
        facts += ", " + base::fixed(*plate.density_kg_m3, 0) + " kg/m\u00b3";
    }
    text(sight, facts);
    if (!plate.notes.empty()) {
        faint_text(sight, plate.notes);
    }
    if (flow_press(sight, "Tap it", "F1", true)) {
        sight.place = Place::bench;
    }
    if (flow_press(sight, "New session", "N", false, true)) {
        begin_session(sight);
        sight.place = Place::bench;
    }
    if (flow_press(sight, "Change", {}, false, true)) {
        begin(PlateDraft(plate));
    }
    if (flow_press(sight, "New plate", "P", false, true)) {
        ledger::PlateRecord fresh_plate;
        fresh_plate.instrument = history.instrument.id;
        begin(PlateDraft(fresh_plate));
    }
    if (flow_press(sight, "Put away", {}, false, true)) {
        bin(sight, "plate", plate.id, plate.label);
    }
    sessions(sight);
}

void PlatesView::sessions(const Sight& sight) {
    const auto& all = sight.now.plate->history.sessions;
    heading(sight, "Sessions");
    if (binned_ && flow_press(sight, "Put " + binned_->name + " back")) {
        sight.send(bench::command::Unbin{binned_->table, binned_->id});
        binned_.reset();
    }
    if (all.empty()) {
        faint_text(sight, "None yet. N begins the first.");
    }
    for (std::size_t i = all.size(); i-- > 0;) {
        const ledger::SessionRecord& session = all[i].session;
        const std::string name = "session " + std::to_string(i + 1);
        const std::string main = std::to_string(i + 1) + ":  " +
                                 base::local_date_time(session.begun) + ", " +
                                 std::string(modes::to_text(session.stage));
        const bool open = session.id == sight.now.plate->session;
        ImGui::PushID("session");
        if (row(sight, static_cast<int>(session.id), main, session_line(all[i]), open)) {
            shown_session_ = shown_session_ == session.id ? 0 : session.id;
        }
        ImGui::PopID();
        if (shown_session_ == session.id) {
            session_buttons(sight, session, name);
        }
    }
}

void PlatesView::session_buttons(const Sight& sight, const ledger::SessionRecord& session,
                                 const std::string& name) {
    ImGui::PushID(static_cast<int>(session.id));
    if (!session.notes.empty()) {
        faint_text(sight, session.notes);
    }
    ImGui::Dummy({sight.look.px(14), 1.0F});
    if (flow_press(sight, "Onto the bench", {}, true, true)) {
        sight.send(bench::command::OpenSession{session.id});
        sight.place = Place::bench;
    }
    if (flow_press(sight, "Correct", {}, false, true)) {
        begin(SessionDraft(session));
    }
    const auto& references = sight.now.references;
    const auto own = std::find_if(references.begin(), references.end(),
                                  [&](const auto& r) { return r.session == session.id; });
    if (own == references.end()) {
        if (flow_press(sight, "Make it a reference", {}, false, true)) {
            const ledger::PlateHistory& history = sight.now.plate->history;
            sight.send(bench::command::AddReference{
                session.id, history.instrument.label + ", " + history.plate.label + ", " + name});
        }
    } else if (flow_press(sight, "No longer a reference", {}, false, true)) {
        sight.send(bench::command::RemoveReference{own->id});
    }
    if (flow_press(sight, "Put away", {}, false, true)) {
        bin(sight, "session", session.id, name);
    }
    ImGui::PopID();
}

void PlatesView::bin(const Sight& sight, const std::string& table, ledger::Id id,
                     const std::string& name) {
    sight.send(bench::command::Bin{table, id});
    binned_ = Binned{table, id, name};
}

} // namespace platewright::screen
