// Measures how long a plate's drift, forecasts and remarks take, by its number of sessions. Without
// arguments: 30, 100, 300 and 1000 sessions of 14 modes; processor time, best of three.
#include "trends/drift/drift.hpp"
#include "trends/plate_report.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <ctime>
#include <random>

using namespace platewright;

namespace {

ledger::PlateHistory tapped_often(int sessions) {
    std::mt19937_64 random{3};
    std::normal_distribution<double> normal;
    ledger::PlateHistory history;
    for (int i = 0; i < sessions; ++i) {
        ledger::SessionHistory one;
        one.session.id = i + 1;
        one.session.begun = {1'600'000'000'000 + i * std::int64_t{86'400'000}};
        one.session.mass_g = 130.0 - 30.0 * i / sessions;
        one.session.temperature_c = 20.0;
        one.session.humidity_pct = 50.0 + 5.0 * std::sin(0.3 * i);
        double hz = 115.0 * std::pow(*one.session.mass_g / 100.0, 0.8);
        for (int k = 0; k < 14; ++k, hz *= 1.16) {
            ledger::ModeRecord record;
            record.mode.frequency_hz = hz * (1.0 + 0.003 * normal(random));
            record.mode.q = 60.0;
            record.mode.taps = 5;
            if (k == 0 || k == 3 || k == 8)
                record.name = modes::ModeName{k == 0 ? 1 : k == 3 ? 2 : 5, 0.99, false};
            one.modes.push_back(record);
        }
        history.sessions.push_back(std::move(one));
    }
    return history;
}

} // namespace

int main() {
    for (const int sessions : {30, 100, 300, 1000}) {
        const ledger::PlateHistory history = tapped_often(sessions);
        double best = 1e9;
        for (int run = 0; run < 3; ++run) {
            const std::clock_t begin = std::clock();
            const trends::Drift found = trends::drift(history);
            const auto said = trends::remarks(history, found);
            best = std::min(best, static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC);
        }
        std::printf("%4d sessions: %.3f s\n", sessions, best);
    }
}
