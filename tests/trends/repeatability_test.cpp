#include "support/catch.hpp"
#include "trends/drift/repeatability.hpp"

using namespace platewright;

namespace {

/// A session whose taps read mode 2 and mode 5 at these frequencies.
ledger::SessionHistory session(const std::vector<std::pair<double, double>>& taps, double spread) {
    ledger::SessionHistory history;
    for (const auto& [x_hz, ring_hz] : taps) {
        ledger::TapRecord tap;
        tap.partials = {{.frequency_hz = x_hz, .frequency_sd_hz = 0.05},
                        {.frequency_hz = ring_hz, .frequency_sd_hz = 0.05}};
        history.taps.push_back(tap);
    }
    for (const auto& [hz, number] : {std::pair{170.0, 2}, std::pair{350.0, 5}})
        history.modes.push_back({.mode = {.frequency_hz = hz,
                                          .spread_hz = spread * hz,
                                          .taps = static_cast<int>(taps.size())},
                                 .name = modes::ModeName{number, 0.99, false}});
    return history;
}

} // namespace

TEST_CASE("taps that differ widely are not fit to be compared") {
    const std::vector<std::pair<double, double>> taps(5, {170, 350});
    CHECK(trends::unfit_to_compare(session(taps, 0.003), trends::Whose::this_session).empty());
    CHECK_THAT(trends::unfit_to_compare(session(taps, 0.014), trends::Whose::this_session),
               ContainsSubstring("differ by 1.4 %"));
    CHECK_THAT(trends::unfit_to_compare(session({{170, 350}}, 0), trends::Whose::reference),
               ContainsSubstring("Too few taps in the reference"));
    CHECK_THAT(trends::unfit_to_compare({}, trends::Whose::this_session),
               ContainsSubstring("No modes"));
}

TEST_CASE("a tap that stands apart is told by the mode that it has off") {
    const auto history = session(
        {{170.1, 350.1}, {169.9, 349.9}, {170.0, 350.1}, {170.1, 346.0}, {169.8, 349.9}}, 0.004);
    const std::string words = trends::why_apart(history, 3);
    CHECK_THAT(words, ContainsSubstring("Tap 4"));
    CHECK_THAT(words, ContainsSubstring("mode 5 (ring) lies 4.0 Hz lower"));
    CHECK(trends::why_apart(session({{170, 350}, {170, 350}}, 0), 0).empty());
}
