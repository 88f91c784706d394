#pragma once
#include "screen/fields/record_fields.hpp"
#include "trends/plate_name.hpp"

#include <optional>
#include <string>

namespace platewright::screen {

// What is being typed, until it is saved (record_fields.hpp).

struct InstrumentDraft : RecordFields<ledger::InstrumentRecord> {
    using RecordFields::RecordFields;
    Filled<ledger::InstrumentRecord> finished() const { return typed(); }
};

struct PlateDraft : RecordFields<ledger::PlateRecord> {
    ledger::Id instrument = record.instrument; ///< it is to belong to; SavePlate leaves it
    using RecordFields::RecordFields;
    Filled<ledger::PlateRecord> finished() const; ///< without a label it is called by its part
};

struct SessionDraft : RecordFields<ledger::SessionRecord> {
    ledger::Id moved_to = record.plate; ///< the plate it is to belong to; SaveSession leaves it
    std::string begun;                  ///< as typed; SaveSession leaves it as it is
    bool shows_place = false;           ///< its day and whose it is are asked too
    std::shared_ptr<const bench::PlateView> plate; // on the bench, since the form was shown
    explicit SessionDraft(const ledger::SessionRecord& from);
    /// A mass that can't be this plate's is a fault here already, while all that was typed still
    /// stands.
    Filled<ledger::SessionRecord> finished() const;
    /// The day that was typed; nothing where it was not touched. Fault: no date.
    base::Result<std::optional<base::Timestamp>> typed_begun() const;

private:
    std::string filled_begun_;
};

enum class FormAnswer { open, save, cancel };

/// The fields and buttons of a draft, in the flow of a page. What is wrong stands under its field,
/// or above the buttons. `fresh` on the first picture, to put the writing mark into the first
/// field.
FormAnswer instrument_form(const ViewContext& context, InstrumentDraft& draft, Complaint& wrong,
                           bool fresh);
FormAnswer plate_form(const ViewContext& context, PlateDraft& draft, Complaint& wrong, bool fresh);
FormAnswer session_form(const ViewContext& context, SessionDraft& draft, Complaint& wrong,
                        bool fresh);

/// What ends a form: Save, also by Enter in a field (`entered`), or leaving it; above them what is
/// wrong.
FormAnswer form_buttons(const ViewContext& context, bool entered, const Complaint& wrong);

/// "violin", "viola", "cello", "other".
std::string kind_text(modes::InstrumentKind kind);
/// "top", "back".
std::string part_text(modes::Part part);
/// "violin back".
std::string what_plate(modes::InstrumentKind kind, modes::Part part);
using trends::plate_name;

} // namespace platewright::screen
