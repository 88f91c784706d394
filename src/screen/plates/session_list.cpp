#include "screen/plates/session_list.hpp"

#include "base/text.hpp"
#include "screen/draw/pictures.hpp"
#include "screen/fields/fields.hpp"

#include <algorithm>

namespace platewright::screen {
namespace {

std::string session_line(const ledger::SessionHistory& session) {
    const auto good = std::count_if(session.taps.begin(), session.taps.end(),
                                    [](const auto& tap) { return taps::counts(tap.verdict); });
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

void PutAway::put(const ViewContext& context, const std::string& table, ledger::Id id,
                  const std::string& name) {
    context.send(bench::command::Bin{table, id});
    last_ = Thing{table, id, name};
}

void PutAway::draw_back(const ViewContext& context) {
    if (last_ &&
        (flow_press(context, say("Put {} back", last_->name), "R") || context.keys.take(U'r'))) {
        context.send(bench::command::Unbin{last_->table, last_->id});
        last_.reset();
    }
}

std::optional<SessionDraft> SessionList::draw(const ViewContext& context, PutAway& away) {
    std::optional<SessionDraft> correction;
    const auto& all = context.now.plate->history.sessions;
    heading(context, say("Sessions"));
    away.draw_back(context);
    if (all.empty()) {
        faint_text(context, say("None yet. N begins the first."));
    }
    for (std::size_t i = all.size(); i-- > 0;) {
        const ledger::SessionRecord& session = all[i].session;
        const std::string name = say("session {}", i + 1);
        const std::string main = std::to_string(i + 1) + ":  " +
                                 base::local_date_time(session.begun) + ", " +
                                 std::string(modes::to_text(session.stage));
        const bool open = session.id == context.now.plate->session;
        ImGui::PushID("session");
        if (row(context, static_cast<int>(session.id), main, session_line(all[i]), open)) {
            opened_ = opened_ == session.id ? 0 : session.id;
        }
        ImGui::PopID();
        if (opened_ == session.id) {
            correction = buttons(context, session, name, away);
        }
    }
    return correction;
}

std::optional<SessionDraft> SessionList::buttons(const ViewContext& context,
                                                 const ledger::SessionRecord& session,
                                                 const std::string& name, PutAway& away) {
    std::optional<SessionDraft> correction;
    ImGui::PushID(static_cast<int>(session.id));
    if (!session.notes.empty()) {
        faint_text(context, session.notes);
    }
    ImGui::Dummy({context.look.px(14), 1.0F});
    if (flow_press(context, say("Onto the bench"), {}, true, true)) {
        context.send(bench::command::OpenSession{session.id});
        context.place = Place::bench;
    }
    if (flow_press(context, say("Correct"), {}, false, true)) {
        correction.emplace(session);
        correction->shows_place = true;
    }
    const auto& references = context.now.references;
    const auto own = std::find_if(references.begin(), references.end(),
                                  [&](const auto& r) { return r.session == session.id; });
    if (own == references.end()) {
        if (flow_press(context, say("Make it a reference"), {}, false, true)) {
            const ledger::PlateHistory& history = context.now.plate->history;
            context.send(bench::command::AddReference{
                session.id, plate_name(history.instrument, history.plate) + ", " + name});
        }
    } else if (flow_press(context, say("No longer a reference"), {}, false, true)) {
        context.send(bench::command::RemoveReference{own->id});
    }
    if (flow_press(context, say("Put away"), {}, false, true)) {
        away.put(context, "session", session.id, name);
    }
    ImGui::PopID();
    return correction;
}

} // namespace platewright::screen
