#include "support/catch.hpp"
#include "trends/drift/comparison.hpp"
#include "trends/plate_story.hpp"

using namespace platewright;
using namespace platewright::trends;
using namespace platewright::test;

namespace {

ledger::SessionHistory liked() {
    KnownPlate plate;
    plate.modes = {{112.0, 0}, {165.0, 0, 50.0}, {220.0, 0}, {349.0, 0}, {455.0, 0}};
    ledger::SessionHistory session = plate.session(98.7);
    name(session, 165.0, 2);
    name(session, 349.0, 5);
    return session;
}

ledger::SessionHistory on_the_bench() {
    KnownPlate plate;
    plate.modes = {{118.0, 0}, {173.0, 0, 60.0}, {232.0, 0}, {352.0, 0}, {700.0, 0}};
    ledger::SessionHistory session = plate.session(103.1);
    name(session, 173.0, 2);
    name(session, 352.0, 5);
    return session;
}

} // namespace

TEST_CASE("a plate beside the reference, mode by mode: named first, then by frequency") {
    const Comparison result = compare(on_the_bench(), liked());
    CHECK(result.doubt.empty());
    REQUIRE(result.modes.size() == 6);
    CHECK(result.modes[0].number == 2);
    CHECK(*result.modes[0].hz == Approx(8.0));
    CHECK(*result.modes[0].cents == Approx(1200.0 * std::log2(173.0 / 165.0)));
    CHECK(*result.modes[0].q_ratio == Approx(1.2));
    CHECK(result.modes[1].number == 5);
    CHECK(*result.modes[1].hz == Approx(3.0));
    CHECK(result.modes[2].plate->frequency_hz == 118.0);
    CHECK(result.modes[2].reference->frequency_hz == 112.0);
    CHECK(result.modes[3].reference->frequency_hz == 220.0);
    CHECK_FALSE(result.modes[4].plate);
    CHECK(result.modes[4].reference->frequency_hz == 455.0);
    CHECK_FALSE(result.modes[5].reference);
    CHECK(*result.plate_ratio_5_to_2 == Approx(352.0 / 173.0));
    CHECK(*result.reference_ratio_5_to_2 == Approx(349.0 / 165.0));
    CHECK(*result.mass_g == Approx(4.4));
}

TEST_CASE("where one of two was not weighed they have no difference of mass") {
    ledger::SessionHistory unweighed = on_the_bench();
    unweighed.session.mass_g.reset();
    CHECK_FALSE(compare(unweighed, liked()).mass_g);
    CHECK_FALSE(compare(liked(), unweighed).mass_g);
}

TEST_CASE("a difference within what hold and hanging do is not called one") {
    const Comparison result = compare(on_the_bench(), liked());
    CHECK(result.modes[0].beyond_spread);       // 8 Hz in 165: 5 %
    CHECK_FALSE(result.modes[1].beyond_spread); // 3 Hz in 349: 0.9 %
}

TEST_CASE("a named mode that one side lacks is shown on the other") {
    ledger::SessionHistory plate = on_the_bench();
    name(plate, 232.0, 3);
    const Comparison result = compare(plate, liked());
    REQUIRE(result.modes.size() == 7);
    CHECK(result.modes[1].number == 3);
    CHECK(result.modes[1].plate);
    CHECK_FALSE(result.modes[1].reference);
    CHECK_FALSE(result.modes[1].hz);
}

TEST_CASE("sessions not fit to be compared are said to be so") {
    ledger::SessionHistory plate = on_the_bench();
    for (auto& mode : plate.modes)
        mode.mode.spread_hz = 0.02 * mode.mode.frequency_hz;
    CHECK(compare(plate, liked()).doubt.find("2.0 %") != std::string::npos);
    CHECK(compare(liked(), plate).doubt.find("the reference") != std::string::npos);
    for (auto& mode : plate.modes)
        mode.mode.taps = 2;
    CHECK(compare(plate, liked()).doubt.find("Too few taps") != std::string::npos);
    plate.modes.clear();
    const Comparison none = compare(plate, liked());
    CHECK(none.doubt.find("No modes") != std::string::npos);
    CHECK(none.modes.size() == 5);
    CHECK_FALSE(none.plate_ratio_5_to_2);
}
