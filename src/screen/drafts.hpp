#pragma once
#include "base/result.hpp"
#include "ledger/record.hpp"
#include "screen/sight.hpp"
#include "screen/typed.hpp"

#include <optional>
#include <string>

namespace platewright::screen {

// What is being typed, until it is saved: text as written, so that half a number is no error yet.
// What was not touched is given back as it was, to the last digit.

struct InstrumentDraft {
    ledger::InstrumentRecord record; // id 0: a new one
    std::size_t kind = 0;            // index into modes::k_instrument_kinds
    explicit InstrumentDraft(const ledger::InstrumentRecord& from);
    base::Result<ledger::InstrumentRecord> finished() const;
};

struct PlateDraft {
    ledger::PlateRecord record;
    std::size_t part = 0;
    TypedFigure density;
    explicit PlateDraft(const ledger::PlateRecord& from);
    base::Result<ledger::PlateRecord> finished() const;
};

struct SessionDraft {
    ledger::SessionRecord record;
    std::size_t stage = 0;
    TypedFigure mass, temperature, humidity;
    std::shared_ptr<const bench::PlateView> plate; // on the bench, since the form was shown
    explicit SessionDraft(const ledger::SessionRecord& from);
    /// A mass that can't be this plate's is a fault here already, while all that was typed still
    /// stands.
    base::Result<ledger::SessionRecord> finished() const;
};

enum class FormAnswer { open, save, cancel };

/// The fields and buttons of a draft, in the flow of a page. `complaint_text` is shown above the
/// buttons. `fresh` on the first picture, to put the writing mark into the first field.
FormAnswer instrument_form(const Sight& sight, InstrumentDraft& draft,
                           const std::string& complaint_text, bool fresh);
FormAnswer plate_form(const Sight& sight, PlateDraft& draft, const std::string& complaint_text,
                      bool fresh);
FormAnswer session_form(const Sight& sight, SessionDraft& draft, const std::string& complaint_text,
                        bool fresh);

/// What ends a form: Save, also by Enter in a field (`entered`), or leaving it; above them what is
/// wrong.
FormAnswer form_buttons(const Sight& sight, bool entered, const std::string& complaint_text);

/// "violin", "viola", "cello", "other".
std::string kind_text(modes::InstrumentKind kind);
/// "top", "back".
std::string part_text(modes::Part part);
/// "violin back".
std::string what_plate(modes::InstrumentKind kind, modes::Part part);
/// What a plate is called: "Wren, back"; its own label alone where that names the instrument too.
std::string plate_name(const ledger::InstrumentRecord& instrument,
                       const ledger::PlateRecord& plate);

} // namespace platewright::screen
