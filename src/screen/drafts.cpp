#include "screen/drafts.hpp"

#include "base/text.hpp"
#include "screen/fields.hpp"
#include "trends/mass_check.hpp"

#include <algorithm>
#include <array>

namespace platewright::screen {
namespace {

template <class T, std::size_t N>
std::size_t index_of(const std::array<T, N>& all, T value) {
    return static_cast<std::size_t>(std::find(all.begin(), all.end(), value) - all.begin());
}

} // namespace

FormAnswer form_buttons(const Sight& sight, bool entered, const std::string& complaint_text) {
    if (!complaint_text.empty()) {
        complaint(sight, complaint_text);
    }
    if (flow_press(sight, say("Save"), say("Enter"), true) || entered) {
        return FormAnswer::save;
    }
    if (flow_press(sight, say("Leave as it was"), "Esc", false, true) ||
        sight.keys.take(Key::escape)) {
        return FormAnswer::cancel;
    }
    return FormAnswer::open;
}

InstrumentDraft::InstrumentDraft(const ledger::InstrumentRecord& from)
    : record(from), kind(index_of(modes::k_instrument_kinds, from.kind)) {}

base::Result<ledger::InstrumentRecord> InstrumentDraft::finished() const {
    ledger::InstrumentRecord out = record;
    out.label = base::trimmed(record.label);
    out.kind = modes::k_instrument_kinds.at(kind);
    if (out.label.empty()) {
        return base::Fault{std::string(
            say("Give the instrument a label, such as its number or its future owner."))};
    }
    return out;
}

PlateDraft::PlateDraft(const ledger::PlateRecord& from)
    : record(from), part(index_of(modes::k_parts, from.part)), density(from.density_kg_m3, 0) {}

base::Result<ledger::PlateRecord> PlateDraft::finished() const {
    ledger::PlateRecord out = record;
    out.part = modes::k_parts.at(part);
    out.label = base::trimmed(record.label);
    if (out.label.empty()) {
        out.label = part_text(out.part);
    }
    const auto typed = density.number(say("The density"), 100, 1500, "kg/m\u00b3");
    if (!typed) {
        return typed.fault();
    }
    out.density_kg_m3 = *typed;
    return out;
}

SessionDraft::SessionDraft(const ledger::SessionRecord& from)
    : record(from), stage(index_of(modes::k_stages, from.stage)), mass(from.mass_g, 1),
      temperature(from.temperature_c, 1), humidity(from.humidity_pct, 0) {}

base::Result<ledger::SessionRecord> SessionDraft::finished() const {
    ledger::SessionRecord out = record;
    out.stage = modes::k_stages.at(stage);
    const auto grams = mass.number(say("The mass"), 1, 5000, "g");
    const auto celsius = temperature.number(say("The temperature"), -20, 60, "\u00b0C");
    const auto percent = humidity.number(say("The humidity"), 0, 100, "%");
    for (const auto* typed : {&grams, &celsius, &percent}) {
        if (!*typed) {
            return typed->fault();
        }
    }
    out.mass_g = *grams;
    out.temperature_c = *celsius;
    out.humidity_pct = *percent;
    if (mass.is_touched() && plate && plate->history.plate.id == out.plate) {
        if (auto fault = trends::fault_in_mass(out, plate->history)) {
            return *fault;
        }
    }
    return out;
}

FormAnswer instrument_form(const Sight& sight, InstrumentDraft& draft,
                           const std::string& complaint_text, bool fresh) {
    heading(sight, draft.record.id == 0 ? say("A new instrument") : say("The instrument"));
    bool entered = field(sight, say("label"), draft.record.label, 360, fresh);
    std::vector<std::string> kinds;
    for (const auto kind : modes::k_instrument_kinds) {
        kinds.push_back(kind_text(kind));
    }
    drop_down(sight, say("kind"), kinds, draft.kind, 220);
    notes_field(sight, say("notes"), draft.record.notes);
    return form_buttons(sight, entered, complaint_text);
}

FormAnswer plate_form(const Sight& sight, PlateDraft& draft, const std::string& complaint_text,
                      bool fresh) {
    heading(sight, draft.record.id == 0 ? say("A new plate") : say("The plate"));
    bool entered = field(sight, say("label"), draft.record.label, 360, fresh);
    std::vector<std::string> parts;
    for (const auto part : modes::k_parts) {
        parts.push_back(part_text(part));
    }
    drop_down(sight, say("part"), parts, draft.part, 220);
    entered |= field(sight, say("wood: kind, origin, cut"), draft.record.wood, 460);
    entered |= field(sight, say("density, kg/m\u00b3"), draft.density.text, 160);
    notes_field(sight, say("notes: outline, arching, grain"), draft.record.notes);
    return form_buttons(sight, entered, complaint_text);
}

FormAnswer session_form(const Sight& sight, SessionDraft& draft, const std::string& complaint_text,
                        bool fresh) {
    draft.plate = sight.now.plate;
    heading(sight, say("The session"));
    bool entered = field(sight, say("mass, g"), draft.mass.text, 160, fresh);
    std::vector<std::string> stages;
    for (const auto stage : modes::k_stages) {
        stages.emplace_back(modes::to_text(stage));
    }
    drop_down(sight, say("stage of the work"), stages, draft.stage, 260);
    entered |= field(sight, say("temperature, \u00b0C"), draft.temperature.text, 160);
    entered |= field(sight, say("humidity, %"), draft.humidity.text, 160);
    notes_field(sight, say("notes"), draft.record.notes);
    return form_buttons(sight, entered, complaint_text);
}

std::string kind_text(modes::InstrumentKind kind) { return std::string(modes::to_text(kind)); }
std::string part_text(modes::Part part) { return std::string(modes::to_text(part)); }
std::string what_plate(modes::InstrumentKind kind, modes::Part part) {
    return say("{} {}", kind_text(kind), part_text(part));
}

std::string plate_name(const ledger::InstrumentRecord& instrument,
                       const ledger::PlateRecord& plate) {
    const bool said = plate.label.find(instrument.label) != std::string::npos;
    return said ? plate.label : instrument.label + ", " + plate.label;
}

} // namespace platewright::screen
