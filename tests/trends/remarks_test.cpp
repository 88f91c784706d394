#include "support/catch.hpp"
#include "trends/plate_report.hpp"
#include "trends/plate_story.hpp"

#include <algorithm>

using namespace platewright;
using namespace platewright::trends;
using namespace platewright::test;

namespace {

ledger::PlateHistory remarked_story() {
    KnownPlate plate;
    plate.modes = {{112, 0.9}, {165, 0.9}, {220, 0.9}, {350, 0.6}};
    plate.scatter = 0.0005;
    ledger::PlateHistory history;
    for (const double mass : {125.0, 120.0, 115.0, 110.0, 105.0, 100.0}) {
        history.sessions.push_back(plate.session(mass));
        ledger::SessionRecord& session = history.sessions.back().session;
        session.begun = {1'773'489'600'000 - static_cast<std::int64_t>(mass) * 86'400'000};
        session.temperature_c = 20.0;
        session.humidity_pct = 45.0;
        name(history.sessions.back(), 350.0 * std::pow(mass / 100.0, 0.6), 5);
    }
    return history;
}

std::vector<std::string> remarks_on(const ledger::PlateHistory& history) {
    return remarks(history, drift(history));
}

bool says(const std::string& sentence, std::string_view words) {
    return sentence.find(words) != std::string::npos;
}

} // namespace

TEST_CASE("where nothing is out of the ordinary nothing is said") {
    CHECK(remarks_on(remarked_story()).empty());
    CHECK(remarks_on({}).empty());
}

TEST_CASE("air that changed since the last session is remarked on, with what it can have done") {
    ledger::PlateHistory history = remarked_story();
    history.sessions.back().session.humidity_pct = 60.0;
    const auto said = remarks_on(history);
    REQUIRE(said.size() == 1);
    CHECK(says(said[0], "11.0 % moisture now, at 8.5 % then")); // Wood Handbook table: 11.0 and 8.5
    CHECK(says(said[0], "as measured"));
    history.sessions.back().session.humidity_pct.reset();
    CHECK(remarks_on(history).empty());
}

TEST_CASE("an odd session is named with its modes, and with the air where that may be why") {
    ledger::PlateHistory history = remarked_story();
    for (auto& mode : history.sessions[2].modes)
        mode.mode.frequency_hz *= 0.975;
    auto said = remarks_on(history);
    REQUIRE(said.size() == 1);
    CHECK(says(said[0], "mode 5 (ring)"));
    CHECK_FALSE(says(said[0], "wetter"));
    history.sessions[2].session.humidity_pct = 60.0;
    said = remarks_on(history);
    REQUIRE(said.size() == 1);
    CHECK(says(said[0], "The air was wetter then"));
}

TEST_CASE("a named mode that the newest session lacks is missed aloud, once it was tapped at all") {
    ledger::PlateHistory history = remarked_story();
    history.sessions.back().modes.pop_back();
    const auto said = remarks_on(history);
    REQUIRE(said.size() == 1);
    CHECK(says(said[0], "mode 5 (ring) was not found in the newest session"));
    history.sessions.back().modes.clear();
    CHECK(remarks_on(history).empty());
}
