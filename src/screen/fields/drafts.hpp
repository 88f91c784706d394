#pragma once
#include "base/result.hpp"
#include "ledger/record.hpp"
#include "screen/fields/fields.hpp"
#include "screen/fields/typed.hpp"
#include "screen/view_context.hpp"
#include "trends/plate_name.hpp"

#include <optional>
#include <string>

namespace platewright::screen {

// What is being typed, until it is saved: text as written, so that half a number is no error yet.
// What was not touched is given back as it was, to the last digit.

struct InstrumentDraft {
    ledger::InstrumentRecord record; // id 0: a new one
    std::size_t kind = 0;            // index into modes::k_instrument_kinds
    TypedFigure body_length;
    explicit InstrumentDraft(const ledger::InstrumentRecord& from);
    Filled<ledger::InstrumentRecord> finished() const;
};

struct PlateDraft {
    ledger::PlateRecord record;
    std::size_t part = 0;
    TypedFigure density;
    ledger::Id instrument = 0; ///< it is to belong to; SavePlate leaves it where it is
    explicit PlateDraft(const ledger::PlateRecord& from);
    Filled<ledger::PlateRecord> finished() const;
};

struct SessionDraft {
    ledger::SessionRecord record;
    TypedFigure mass, temperature, humidity;
    ledger::Id moved_to = 0;  ///< the plate it is to belong to; SaveSession leaves it where it is
    std::string begun;        ///< as typed; SaveSession leaves it as it is
    bool shows_place = false; ///< its day and whose it is are asked too
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
