#include "support/catch.hpp"
#include "trends/decision/goal_range.hpp"

#include <array>
#include <cmath>

using namespace platewright;
using trends::Goal;

namespace {

/// An invented plate; with `hz`, tapped once and its mode 5 found there.
ledger::PlateHistory plate_of(modes::InstrumentKind kind, modes::Part part,
                              std::optional<double> hz = std::nullopt) {
    ledger::PlateHistory history;
    history.instrument.kind = kind;
    history.plate.part = part;
    if (hz) {
        ledger::SessionHistory session;
        ledger::ModeRecord mode;
        mode.mode.frequency_hz = *hz;
        mode.name = modes::ModeName{5, 0.99};
        session.modes.push_back(mode);
        history.sessions.push_back(session);
    }
    return history;
}

bool is_asked_about(int number, double hz, const ledger::PlateHistory& history) {
    const Goal goal{number, hz};
    return !trends::question_to({&goal, 1}, history).empty();
}

using modes::InstrumentKind;
using modes::Part;

} // namespace

TEST_CASE(
    "a target with a digit too few or too many is asked about, on any plate that was tapped") {
    for (const double now_hz : {80.0, 147.0, 265.0, 355.0, 410.0}) {
        const auto plate = plate_of(InstrumentKind::violin, Part::back, now_hz);
        CAPTURE(now_hz);
        for (const double share : {0.1, 0.5, 1.5, 10.0})
            CHECK(is_asked_about(5, share * now_hz, plate));
        // What the trade's graduating and a bar do, none of it is asked about.
        for (const double share : {0.7, 0.85, 1.0, 1.15})
            CHECK_FALSE(is_asked_about(5, share * now_hz, plate));
    }
}

TEST_CASE("where a mode was never tapped its kind of instrument tells, and a body has its own") {
    // Published: a violin back's mode 5 near 355 to 370 Hz, a top's mode 2 near 165
    // (docs/sources.md#hutchins-1981); a violin's A0 near 275 and B1+ near 535 Hz
    // (docs/sources.md#signature-modes).
    const auto back = plate_of(InstrumentKind::violin, Part::back);
    const auto top = plate_of(InstrumentKind::violin, Part::top);
    const auto body = plate_of(InstrumentKind::violin, Part::body);
    CHECK_FALSE(is_asked_about(5, 355, back));
    CHECK_FALSE(is_asked_about(5, 370, back));
    CHECK_FALSE(is_asked_about(2, 165, top));
    CHECK_FALSE(is_asked_about(modes::k_a0, 275, body));
    CHECK_FALSE(is_asked_about(modes::k_b1_plus, 535, body));
    CHECK(is_asked_about(5, 35, back));
    CHECK(is_asked_about(5, 165, back)); // mode 2's
    CHECK(is_asked_about(modes::k_a0, 27.5, body));
    CHECK(is_asked_about(5, 355, plate_of(InstrumentKind::cello, Part::back)));
    CHECK_FALSE(is_asked_about(5, 147, plate_of(InstrumentKind::cello, Part::back)));
    CHECK_FALSE(is_asked_about(3, 35, back)); // nothing is known of it
    CHECK_FALSE(is_asked_about(5, 35, body)); // nor of a plate's mode on a body
}

TEST_CASE("a small size's range goes up with it, and the plate's own word goes before its kind's") {
    auto small = plate_of(InstrumentKind::violin, Part::back);
    small.instrument.body_length_mm = 280;
    CHECK(trends::goal_range(5, small)->high_hz >
          trends::goal_range(5, plate_of(InstrumentKind::violin, Part::back))->high_hz);
    const auto odd = plate_of(InstrumentKind::violin, Part::back, 620.0);
    CHECK_FALSE(is_asked_about(5, 600, odd));
    CHECK(trends::goal_range(5, odd)->now_hz == 620.0);
    const std::array goals{Goal{5, 600}, Goal{2, 17}};
    const std::string question = trends::question_to(goals, odd);
    INFO(question);
    CHECK(question.starts_with("17.0 Hz for mode 2?"));
}
