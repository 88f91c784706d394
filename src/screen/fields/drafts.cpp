#include "screen/fields/drafts.hpp"

#include "base/text.hpp"
#include "screen/fields/part_choice.hpp"
#include "trends/review/mass_check.hpp"

#include <algorithm>

namespace platewright::screen {

FormAnswer form_buttons(const ViewContext& context, bool entered, const Complaint& wrong) {
    complaint(context, wrong);
    // Enter in what is no field, a list or a drawing, saves as well.
    if (flow_press(context, say("Save"), say("Enter"), true) || entered ||
        context.keys.take(Key::enter)) {
        return FormAnswer::save;
    }
    if (flow_press(context, say("Leave as it was"), "Esc", false, true) ||
        context.keys.take(Key::escape)) {
        return FormAnswer::cancel;
    }
    return FormAnswer::open;
}

Filled<ledger::PlateRecord> PlateDraft::finished() const {
    auto out = typed();
    if (out && out->label.empty()) {
        out->label = part_text(out->part);
    }
    return out;
}

SessionDraft::SessionDraft(const ledger::SessionRecord& from)
    : RecordFields(from), begun(from.id != 0 ? base::local_date_time(from.begun) : std::string()),
      filled_begun_(begun) {}

base::Result<std::optional<base::Timestamp>> SessionDraft::typed_begun() const {
    if (begun == filled_begun_ || base::trimmed(begun).empty()) {
        return std::optional<base::Timestamp>();
    }
    const auto typed = base::from_typed(base::trimmed(begun));
    return typed ? base::Result<std::optional<base::Timestamp>>(typed)
                 : base::Fault{say(
                       "“{}” is no date: type 2026-03-14, 14.3.2026, or one of these and a time.",
                       begun)};
}

Filled<ledger::SessionRecord> SessionDraft::finished() const {
    auto out = typed();
    if (const auto day = typed_begun(); out && !day) {
        return {day.fault(), say("begun")};
    }
    if (out && figure("mass_g").is_touched() && plate && plate->history.plate.id == out->plate) {
        if (auto fault = trends::fault_in_mass(*out, plate->history)) {
            return {*fault, say("mass, g")};
        }
    }
    return out;
}

namespace {

using Records = std::vector<Option<ledger::Id>>;

void instrument_choice(const ViewContext& context, ledger::Id& chosen) {
    Records all;
    if (context.now.instruments) {
        for (const ledger::InstrumentSummary& one : *context.now.instruments) {
            all.push_back({one.instrument.id, one.instrument.label});
        }
    }
    drop_down(context, say("belongs to"), all, chosen, 360);
}

void plate_choice(const ViewContext& context, ledger::Id& chosen) {
    Records all;
    if (context.now.instruments) {
        for (const ledger::InstrumentSummary& one : *context.now.instruments) {
            for (const ledger::PlateSummary& plate : one.plates) {
                all.push_back({plate.plate.id, plate_name(one.instrument, plate.plate)});
            }
        }
    }
    drop_down(context, say("belongs to"), all, chosen, 360);
}

/// Those its part can be at; and the one it is said to be at, whatever that is.
void stage_choice(const ViewContext& context, SessionDraft& draft) {
    std::vector<modes::Stage> stages =
        context.now.plate ? modes::stages_of(context.now.plate->history.plate.part)
                          : std::vector(modes::k_stages.begin(), modes::k_stages.end());
    if (std::find(stages.begin(), stages.end(), draft.record.stage) == stages.end()) {
        stages.push_back(draft.record.stage);
    }
    std::vector<Option<modes::Stage>> all;
    for (const modes::Stage stage : stages) {
        all.push_back({stage, std::string(modes::to_text(stage))});
    }
    drop_down(context, say("stage of the work"), all, draft.record.stage, 260);
}

} // namespace

FormAnswer instrument_form(const ViewContext& context, InstrumentDraft& draft, Complaint& wrong,
                           bool fresh) {
    heading(context, draft.record.id == 0 ? say("A new instrument") : say("The instrument"));
    const bool entered =
        draft.draw_fields(context, wrong, fresh, [&context](std::string_view column) {
            if (column == "notes") {
                faint_text(context,
                           say("Usual: violin 355, three quarters 335, half 310, a quarter 280; "
                               "viola "
                               "380 to 430; cello 755; "
                               "double bass 1050 to 1150."));
            }
            return false;
        });
    return form_buttons(context, entered, wrong);
}

/// Of this id; one of the usual kind where it is not in the list yet.
static ledger::InstrumentRecord instrument_of(const ViewContext& context, ledger::Id id) {
    if (context.now.instruments) {
        for (const ledger::InstrumentSummary& one : *context.now.instruments) {
            if (one.instrument.id == id) {
                return one.instrument;
            }
        }
    }
    return {};
}

FormAnswer plate_form(const ViewContext& context, PlateDraft& draft, Complaint& wrong, bool fresh) {
    heading(context, draft.record.id == 0 ? say("A new plate") : say("The plate"));
    const bool entered = draft.draw_fields(context, wrong, fresh, [&](std::string_view column) {
        if (column == "wood" && draft.record.id != 0) {
            instrument_choice(context, draft.instrument);
        }
        if (column == "part") {
            choose_part(context, draft.label(column), instrument_of(context, draft.instrument),
                        draft.record.part);
        }
        return column == "part";
    });
    return form_buttons(context, entered, wrong);
}

FormAnswer session_form(const ViewContext& context, SessionDraft& draft, Complaint& wrong,
                        bool fresh) {
    draft.plate = context.now.plate;
    heading(context, say("The session"));
    bool entered = draft.draw_fields(context, wrong, fresh, [&](std::string_view column) {
        if (column == "temperature_c") {
            stage_choice(context, draft);
        }
        return column == "stage"; // not any that there is
    });
    if (draft.shows_place) {
        entered |= field(context, say("begun"), draft.begun, 260, false, &wrong);
        plate_choice(context, draft.moved_to);
    }
    return form_buttons(context, entered, wrong);
}

std::string kind_text(modes::InstrumentKind kind) { return std::string(modes::to_text(kind)); }
std::string part_text(modes::Part part) { return std::string(modes::to_text(part)); }
std::string what_plate(modes::InstrumentKind kind, modes::Part part) {
    return say("{} {}", kind_text(kind), part_text(part));
}

} // namespace platewright::screen
