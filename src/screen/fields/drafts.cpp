#include "screen/fields/drafts.hpp"

#include "base/text.hpp"
#include "ledger/limits.hpp"
#include "screen/fields/fields.hpp"
#include "trends/review/mass_check.hpp"

#include <algorithm>
#include <array>

namespace platewright::screen {
namespace {

template <class T, std::size_t N>
std::size_t index_of(const std::array<T, N>& all, T value) {
    return static_cast<std::size_t>(std::find(all.begin(), all.end(), value) - all.begin());
}

} // namespace

FormAnswer form_buttons(const ViewContext& context, bool entered, const Complaint& wrong) {
    complaint(context, wrong);
    if (flow_press(context, say("Save"), say("Enter"), true) || entered) {
        return FormAnswer::save;
    }
    if (flow_press(context, say("Leave as it was"), "Esc", false, true) ||
        context.keys.take(Key::escape)) {
        return FormAnswer::cancel;
    }
    return FormAnswer::open;
}

InstrumentDraft::InstrumentDraft(const ledger::InstrumentRecord& from)
    : record(from), kind(index_of(modes::k_instrument_kinds, from.kind)),
      body_length(from.body_length_mm, 0) {}

Filled<ledger::InstrumentRecord> InstrumentDraft::finished() const {
    ledger::InstrumentRecord out = record;
    out.label = base::trimmed(record.label);
    out.kind = modes::k_instrument_kinds.at(kind);
    if (out.label.empty()) {
        return {base::Fault{std::string(
                    say("Give the instrument a label, such as its number or its future owner."))},
                say("label")};
    }
    const auto typed = body_length.number(say("The body's length"), ledger::k_body_length);
    if (!typed) {
        return {typed.fault(), say("length of the body, mm; empty: full size")};
    }
    out.body_length_mm = *typed;
    return out;
}

PlateDraft::PlateDraft(const ledger::PlateRecord& from)
    : record(from), part(index_of(modes::k_parts, from.part)), density(from.density_kg_m3, 0),
      instrument(from.instrument) {}

Filled<ledger::PlateRecord> PlateDraft::finished() const {
    ledger::PlateRecord out = record;
    out.part = modes::k_parts.at(part);
    out.label = base::trimmed(record.label);
    if (out.label.empty()) {
        out.label = part_text(out.part);
    }
    const auto typed = density.number(say("The density"), ledger::k_density);
    if (!typed) {
        return {typed.fault(), say("density, kg/m\u00b3")};
    }
    out.density_kg_m3 = *typed;
    return out;
}

SessionDraft::SessionDraft(const ledger::SessionRecord& from)
    : record(from), mass(from.mass_g, 1), temperature(from.temperature_c, 1),
      humidity(from.humidity_pct, 0), moved_to(from.plate),
      begun(from.id != 0 ? base::local_date_time(from.begun) : std::string()),
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
    ledger::SessionRecord out = record;
    const auto grams = mass.number(say("The mass"), ledger::k_mass);
    const auto celsius = temperature.number(say("The temperature"), ledger::k_temperature);
    const auto percent = humidity.number(say("The humidity"), ledger::k_humidity);
    for (const auto& [typed, field] :
         {std::pair{&grams, say("mass, g")}, std::pair{&celsius, say("temperature, \u00b0C")},
          std::pair{&percent, say("humidity, %")}}) {
        if (!*typed) {
            return {typed->fault(), field};
        }
    }
    out.mass_g = *grams;
    out.temperature_c = *celsius;
    out.humidity_pct = *percent;
    if (const auto typed = typed_begun(); !typed) {
        return {typed.fault(), say("begun")};
    }
    if (mass.is_touched() && plate && plate->history.plate.id == out.plate) {
        if (auto fault = trends::fault_in_mass(out, plate->history)) {
            return {*fault, say("mass, g")};
        }
    }
    return out;
}

namespace {

/// One of several records by its name; `chosen` is its id.
void record_choice(const ViewContext& context, std::string_view label,
                   const std::vector<std::pair<ledger::Id, std::string>>& all, ledger::Id& chosen) {
    std::vector<std::string> names;
    std::size_t index = all.size();
    for (std::size_t i = 0; i < all.size(); ++i) {
        names.push_back(all[i].second);
        index = all[i].first == chosen ? i : index;
    }
    if (drop_down(context, label, names, index, 360)) {
        chosen = all[index].first;
    }
}

void instrument_choice(const ViewContext& context, ledger::Id& chosen) {
    std::vector<std::pair<ledger::Id, std::string>> all;
    if (context.now.instruments) {
        for (const ledger::InstrumentSummary& one : *context.now.instruments) {
            all.emplace_back(one.instrument.id, one.instrument.label);
        }
    }
    record_choice(context, say("belongs to"), all, chosen);
}

void plate_choice(const ViewContext& context, ledger::Id& chosen) {
    std::vector<std::pair<ledger::Id, std::string>> all;
    if (context.now.instruments) {
        for (const ledger::InstrumentSummary& one : *context.now.instruments) {
            for (const ledger::PlateSummary& plate : one.plates) {
                all.emplace_back(plate.plate.id, plate_name(one.instrument, plate.plate));
            }
        }
    }
    record_choice(context, say("belongs to"), all, chosen);
}

/// Those its part can be at; and the one it is said to be at, whatever that is.
void stage_choice(const ViewContext& context, SessionDraft& draft) {
    std::vector<modes::Stage> stages =
        context.now.plate ? modes::stages_of(context.now.plate->history.plate.part)
                          : std::vector(modes::k_stages.begin(), modes::k_stages.end());
    if (std::find(stages.begin(), stages.end(), draft.record.stage) == stages.end()) {
        stages.push_back(draft.record.stage);
    }
    std::vector<std::string> names;
    for (const modes::Stage stage : stages) {
        names.emplace_back(modes::to_text(stage));
    }
    auto index = static_cast<std::size_t>(
        std::find(stages.begin(), stages.end(), draft.record.stage) - stages.begin());
    if (drop_down(context, say("stage of the work"), names, index, 260)) {
        draft.record.stage = stages[index];
    }
}

} // namespace

FormAnswer instrument_form(const ViewContext& context, InstrumentDraft& draft, Complaint& wrong,
                           bool fresh) {
    heading(context, draft.record.id == 0 ? say("A new instrument") : say("The instrument"));
    bool entered = field(context, say("label"), draft.record.label, 360, fresh, &wrong);
    std::vector<std::string> kinds;
    for (const auto kind : modes::k_instrument_kinds) {
        kinds.push_back(kind_text(kind));
    }
    drop_down(context, say("kind"), kinds, draft.kind, 220);
    entered |= field(context, say("length of the body, mm; empty: full size"),
                     draft.body_length.text, 160, false, &wrong);
    faint_text(context, say("Usual: violin 355, three quarters 335, half 310, a quarter 280; viola "
                            "380 to 430; cello 755; "
                            "double bass 1050 to 1150."));
    notes_field(context, say("notes"), draft.record.notes);
    return form_buttons(context, entered, wrong);
}

FormAnswer plate_form(const ViewContext& context, PlateDraft& draft, Complaint& wrong, bool fresh) {
    heading(context, draft.record.id == 0 ? say("A new plate") : say("The plate"));
    bool entered = field(context, say("label"), draft.record.label, 360, fresh, &wrong);
    std::vector<std::string> parts;
    for (const auto part : modes::k_parts) {
        parts.push_back(part_text(part));
    }
    drop_down(context, say("part"), parts, draft.part, 220);
    if (draft.record.id != 0) {
        instrument_choice(context, draft.instrument);
    }
    entered |= field(context, say("wood: kind, origin, cut"), draft.record.wood, 460);
    entered |= field(context, say("density, kg/m\u00b3"), draft.density.text, 160, false, &wrong);
    notes_field(context, say("notes: outline, arching, grain"), draft.record.notes);
    return form_buttons(context, entered, wrong);
}

FormAnswer session_form(const ViewContext& context, SessionDraft& draft, Complaint& wrong,
                        bool fresh) {
    draft.plate = context.now.plate;
    heading(context, say("The session"));
    bool entered = field(context, say("mass, g"), draft.mass.text, 160, fresh, &wrong);
    stage_choice(context, draft);
    entered |=
        field(context, say("temperature, \u00b0C"), draft.temperature.text, 160, false, &wrong);
    entered |= field(context, say("humidity, %"), draft.humidity.text, 160, false, &wrong);
    notes_field(context, say("notes"), draft.record.notes);
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
