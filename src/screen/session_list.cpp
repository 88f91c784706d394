#include "screen/session_list.hpp"

#include "base/text.hpp"
#include "screen/fields.hpp"
#include "screen/pictures.hpp"

#include <algorithm>

namespace platewright::screen {
namespace {

std::string session_line(const ledger::SessionHistory& session) {
    const auto good = std::count_if(session.taps.begin(), session.taps.end(), [](const auto& tap) {
        return tap.verdict == taps::Verdict::accepted;
    });
    std::string words = say("{} good taps of {}", good, session.taps.size());
    if (session.session.mass_g) {
        words += ", " + figure(*session.session.mass_g, 1) + " g";
    }
    for (const ledger::ModeRecord& mode : session.modes) {
        if (mode.name) {
            words += ", " + modes::short_mode_text(mode.name->number) + " " +
                     figure(mode.mode.frequency_hz, 1);
        }
    }
    return words;
}

} // namespace

void PutAway::put(const Sight& sight, const std::string& table, ledger::Id id,
                  const std::string& name) {
    sight.send(bench::command::Bin{table, id});
    last_ = Thing{table, id, name};
}

void PutAway::draw_back(const Sight& sight) {
    if (last_ &&
        (flow_press(sight, say("Put {} back", last_->name), "R") || sight.keys.take(U'r'))) {
        sight.send(bench::command::Unbin{last_->table, last_->id});
        last_.reset();
    }
}

std::optional<SessionDraft> SessionList::draw(const Sight& sight, PutAway& away) {
    std::optional<SessionDraft> correction;
    const auto& all = sight.now.plate->history.sessions;
    heading(sight, say("Sessions"));
    away.draw_back(sight);
    if (all.empty()) {
        faint_text(sight, say("None yet. N begins the first."));
    }
    for (std::size_t i = all.size(); i-- > 0;) {
        const ledger::SessionRecord& session = all[i].session;
        const std::string name = say("session {}", i + 1);
        const std::string main = std::to_string(i + 1) + ":  " +
                                 base::local_date_time(session.begun) + ", " +
                                 std::string(modes::to_text(session.stage));
        const bool open = session.id == sight.now.plate->session;
        ImGui::PushID("session");
        if (row(sight, static_cast<int>(session.id), main, session_line(all[i]), open)) {
            opened_ = opened_ == session.id ? 0 : session.id;
        }
        ImGui::PopID();
        if (opened_ == session.id) {
            correction = buttons(sight, session, name, away);
        }
    }
    return correction;
}

std::optional<SessionDraft> SessionList::buttons(const Sight& sight,
                                                 const ledger::SessionRecord& session,
                                                 const std::string& name, PutAway& away) {
    std::optional<SessionDraft> correction;
    ImGui::PushID(static_cast<int>(session.id));
    if (!session.notes.empty()) {
        faint_text(sight, session.notes);
    }
    ImGui::Dummy({sight.look.px(14), 1.0F});
    if (flow_press(sight, say("Onto the bench"), {}, true, true)) {
        sight.send(bench::command::OpenSession{session.id});
        sight.place = Place::bench;
    }
    if (flow_press(sight, say("Correct"), {}, false, true)) {
        correction.emplace(session);
        correction->shows_place = true;
    }
    const auto& references = sight.now.references;
    const auto own = std::find_if(references.begin(), references.end(),
                                  [&](const auto& r) { return r.session == session.id; });
    if (own == references.end()) {
        if (flow_press(sight, say("Make it a reference"), {}, false, true)) {
            const ledger::PlateHistory& history = sight.now.plate->history;
            sight.send(bench::command::AddReference{
                session.id, plate_name(history.instrument, history.plate) + ", " + name});
        }
    } else if (flow_press(sight, say("No longer a reference"), {}, false, true)) {
        sight.send(bench::command::RemoveReference{own->id});
    }
    if (flow_press(sight, say("Put away"), {}, false, true)) {
        away.put(sight, "session", session.id, name);
    }
    ImGui::PopID();
    return correction;
}

} // namespace platewright::screen
