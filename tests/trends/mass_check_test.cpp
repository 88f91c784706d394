#include "support/catch.hpp"
#include "trends/mass_check.hpp"

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
    CHECK(refusal(650.0, history).empty()); // a wedge as it comes from the saw
    CHECK(refusal(10.4, history).find("20 to 1200 g") != std::string::npos);
    CHECK(refusal(1650.0, history).find("Nothing was stored") != std::string::npos);
    history.instrument.kind = modes::InstrumentKind::cello;
    CHECK(refusal(650.0, history).empty());
    history.instrument.kind = modes::InstrumentKind::other;
    CHECK(refusal(3.0, history).empty());
    CHECK_FALSE(fault_in_mass({}, history)); // not weighed
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
    CHECK(refusal(430.0, history, 19'890).empty()); // beside the rough plate
    // a session that is corrected is not held against itself
    history.sessions.erase(history.sessions.begin());
    CHECK_FALSE(fault_in_mass(weighed(1040.0, 19'990, 19'990), history));
}
