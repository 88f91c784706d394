// The search over all instruments: words anywhere in them, session notes included.
#include "support/catch.hpp"
#include "trends/plate_name.hpp"

using namespace platewright;
using trends::answers_to;

namespace {

ledger::InstrumentSummary wren() {
    ledger::PlateSummary back;
    back.plate.label = "Wren back";
    back.plate.part = modes::Part::back;
    back.plate.wood = "maple, one piece";
    back.plate.notes = "grain a little wild";
    back.session_notes = "rang dull\nhung by the Linen thread";
    ledger::InstrumentSummary summary;
    summary.instrument.label = "Wren";
    summary.instrument.kind = modes::InstrumentKind::viola;
    summary.instrument.notes = "for nobody";
    summary.plates = {back};
    return summary;
}

} // namespace

TEST_CASE("every word has to stand somewhere: label, kind, part, wood or a note of any session") {
    for (const char* words : {"wren", "VIOLA", "nobody", "back", "maple", "wild", "dull", "linen",
                              "  wren   linen ", "iol", "dull thread"}) {
        CAPTURE(words);
        CHECK(answers_to(wren(), words));
    }
    for (const char* words : {"heron", "wren heron", "violin", "silk"}) {
        CAPTURE(words);
        CHECK_FALSE(answers_to(wren(), words));
    }
}

TEST_CASE("no words answer to everything, an instrument without plates too") {
    CHECK(answers_to(wren(), ""));
    CHECK(answers_to({}, "  "));
    CHECK_FALSE(answers_to({}, "wren"));
}
