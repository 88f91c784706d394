// How the time for a plate's drift grows with its sessions: as a ratio within one run, of processor
// time, so that a busy machine can't decide it.
#include "support/catch.hpp"
#include "trends/drift/drift.hpp"
#include "trends/plate_report.hpp"

#include <algorithm>
#include <cmath>
#include <ctime>
#include <random>

using namespace platewright;
using namespace platewright::trends;

namespace {

/// A plate that is tapped for years: 14 modes, a strange line in every other session.
ledger::PlateHistory tapped_often(int sessions) {
    std::mt19937_64 random{3};
    std::normal_distribution<double> normal;
    std::uniform_real_distribution<double> uniform;
    ledger::PlateHistory history;
    for (int i = 0; i < sessions; ++i) {
        ledger::SessionHistory one;
        one.session.id = i + 1;
        one.session.begun = {1'600'000'000'000 + i * std::int64_t{86'400'000}};
        one.session.mass_g = 130.0 - 30.0 * i / sessions;
        one.session.temperature_c = 20.0;
        one.session.humidity_pct = 45.0 + 10.0 * uniform(random);
        const auto add = [&](double hz, std::optional<int> number) {
            ledger::ModeRecord record;
            record.mode.frequency_hz = hz * (1.0 + 0.003 * normal(random));
            record.mode.q = 60.0;
            record.mode.taps = 5;
            if (number)
                record.name = modes::ModeName{*number, 0.99, false};
            one.modes.push_back(record);
        };
        double hz = 115.0 * std::pow(*one.session.mass_g / 100.0, 0.8);
        for (int k = 0; k < 14; ++k, hz *= 1.16)
            add(hz, k == 0   ? std::optional{1}
                    : k == 3 ? std::optional{2}
                    : k == 8 ? std::optional{5}
                             : std::nullopt);
        if (uniform(random) < 0.5)
            add(100.0 + 700.0 * uniform(random), std::nullopt);
        std::ranges::sort(one.modes, {}, [](const auto& m) { return m.mode.frequency_hz; });
        history.sessions.push_back(std::move(one));
    }
    return history;
}

double seconds(int sessions) {
    const ledger::PlateHistory history = tapped_often(sessions);
    double least = 1e9;
    for (int run = 0; run < 3; ++run) {
        const std::clock_t begin = std::clock();
        const Drift found = drift(history);
        CHECK_FALSE(found.tracks.empty());
        CHECK(remarks(history, found).size() < 100);
        least = std::min(least, static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC);
    }
    return least;
}

} // namespace

// Eight times the sessions, eight times the time, if it grows as they do; 64 times if by the
// square. It grew by the cube: 2.6 s at 300 sessions, 68 s at 1000.
TEST_CASE("eight times the sessions take a plate's drift less than 24 times as long") {
    const double few = seconds(100), many = seconds(800);
    CAPTURE(few, many, many / few);
    CHECK(many < 24.0 * few);
}
