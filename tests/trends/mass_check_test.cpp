#include "support/catch.hpp"
#include "trends/review/mass_check.hpp"

using namespace platewright;
using namespace platewright::trends;

namespace {

ledger::SessionRecord weighed(double mass_g, std::int64_t day, ledger::Id id = 0) {
    ledger::SessionRecord session;
    session.id = id;
    session.begun = {day * 86'400'000};
    session.mass_g = mass_g;
    return session;
}

std::string refusal(double mass_g, const ledger::PlateHistory& history, std::int64_t day = 20'000) {
    const auto fault = fault_in_mass(weighed(mass_g, day), history);
    return fault ? fault->what : "";
}

} // namespace

TEST_CASE("a mass that no plate of the kind has is refused, with what such plates weigh") {
    ledger::PlateHistory history;
    history.instrument.kind = modes::InstrumentKind::violin;
    CHECK(refusal(104.0, history).empty());
    CHECK(refusal(10.4, history).find("25 to 450 g") != std::string::npos);
    CHECK(refusal(1650.0, history).find("Nothing was stored") != std::string::npos);
    history.instrument.kind = modes::InstrumentKind::cello;
    CHECK(refusal(650.0, history).empty());
    // a strung double bass of common practice, no source; with the decimal mark lost
    history.instrument.kind = modes::InstrumentKind::double_bass;
    history.plate.part = modes::Part::body;
    CHECK(refusal(9400.0, history).empty());
    CHECK(refusal(940.0, history).find("3000 to 15000 g") != std::string::npos);
    history.instrument.kind = modes::InstrumentKind::other;
    CHECK(refusal(3.0, history).empty());
    CHECK_FALSE(fault_in_mass({}, history)); // not weighed
}

TEST_CASE("a first session's mass with a lost decimal mark is refused by kind, part and stage") {
    using modes::InstrumentKind, modes::Part, modes::Stage;
    struct Case {
        InstrumentKind kind;
        Part part;
        double grams;
    };
    // Finished plates of common practice, no source.
    for (const Case& c : {Case{InstrumentKind::violin, Part::back, 103.1},
                          Case{InstrumentKind::violin, Part::top, 63.5},
                          Case{InstrumentKind::viola, Part::back, 141.2},
                          Case{InstrumentKind::viola, Part::top, 92.4},
                          Case{InstrumentKind::cello, Part::back, 652.0},
                          Case{InstrumentKind::cello, Part::top, 412.5}}) {
        ledger::PlateHistory history;
        history.instrument.kind = c.kind;
        history.plate.part = c.part;
        CAPTURE(c.grams);
        CHECK(refusal(c.grams, history).empty());
        CHECK_FALSE(refusal(10.0 * c.grams, history).empty());
        CHECK_FALSE(refusal(0.1 * c.grams, history).empty());
    }
    ledger::PlateHistory history; // a violin back
    ledger::SessionRecord wedge = weighed(650.0, 20'000);
    CHECK(fault_in_mass(wedge, history));
    wedge.stage = Stage::rough; // as it comes from the saw
    CHECK_FALSE(fault_in_mass(wedge, history));
    wedge.mass_g = 1031.0;
    CHECK(fault_in_mass(wedge, history));
}

TEST_CASE("a plate gains no 22 g, whichever of the two sessions is entered last") {
    ledger::PlateHistory history;
    history.instrument.kind = modes::InstrumentKind::violin;
    for (const auto& [grams, day] : {std::pair{112.0, 19'900}, std::pair{100.5, 19'990}}) {
        ledger::SessionHistory one;
        one.session = weighed(grams, day, day);
        history.sessions.push_back(one);
    }
    CHECK(refusal(134.0, history, 19'950).find("gained 22.0 g") != std::string::npos);
    CHECK(refusal(104.0, history, 19'950).empty());
    CHECK(refusal(134.0, history, 20'000).find("100.5 g") != std::string::npos);
    CHECK(refusal(70.0, history, 19'950).find("100.5 g") != std::string::npos); // 40 for 104, say
    CHECK(refusal(114.0, history, 19'950).empty()); // damp, or a patch: remarked upon, not refused
    CHECK(remarks_on_masses(history).empty());
    history.sessions[1].session.mass_g = 121.0;
    REQUIRE(remarks_on_masses(history).size() == 1);
    CHECK(remarks_on_masses(history)[0].find("gained 9.0 g") != std::string::npos);
    // a bar weighs what it weighs
    history.plate.part = modes::Part::top;
    history.sessions[1].session.stage = modes::Stage::bar_fitted;
    CHECK(remarks_on_masses(history).empty());
}

TEST_CASE("a mass that this plate can't have come to is refused, with what it weighed") {
    ledger::PlateHistory history;
    history.instrument.kind = modes::InstrumentKind::violin;
    for (const auto& [grams, day] : {std::pair{420.0, 19'900}, std::pair{104.0, 19'990}}) {
        ledger::SessionHistory one;
        one.session = weighed(grams, day, day);
        history.sessions.push_back(one);
    }
    CHECK(refusal(101.0, history).empty());
    CHECK(refusal(1040.0, history).find("104") != std::string::npos);
    CHECK(refusal(25.5, history).find("decimal mark") != std::string::npos);
    CHECK(refusal(430.0, history, 19'890).empty()); // beside the heavier plate
    // a session that is corrected is not held against itself
    history.sessions.erase(history.sessions.begin());
    CHECK_FALSE(fault_in_mass(weighed(440.0, 19'990, 19'990), history));
}
