#pragma once
#include "ledger/record.hpp"

#include <cmath>
#include <random>

namespace platewright::test {

/// A made-up plate whose modes follow known laws, f = hz·(mass/100 g)^exponent.
struct KnownMode {
    double hz_at_100_g = 0;
    double exponent = 1.0;
    double q = 60.0;
    std::vector<modes::SpotLevel> spots = {};
};

struct KnownPlate {
    modes::Part part = modes::Part::back;
    std::vector<KnownMode> modes;
    double scatter = 0.0; ///< of ln f, from session to session
    std::mt19937_64 random{1};

    /// A session in which modes of the given indices are not found.
    ledger::SessionHistory session(double mass_g, std::vector<std::size_t> missing = {}) {
        ledger::SessionHistory result;
        result.session.mass_g = mass_g;
        std::normal_distribution<double> normal;
        for (std::size_t i = 0; i < modes.size(); ++i) {
            const double moved = std::exp(scatter * normal(random));
            const KnownMode& known = modes[i];
            if (std::find(missing.begin(), missing.end(), i) != missing.end())
                continue;
            ledger::ModeRecord record;
            record.mode.frequency_hz =
                known.hz_at_100_g * std::pow(mass_g / 100.0, known.exponent) * moved;
            record.mode.frequency_sd_hz = 0.1;
            record.mode.spread_hz = 0.3;
            record.mode.q = known.q;
            record.mode.taps = 6;
            record.mode.spots = known.spots;
            result.modes.push_back(record);
        }
        std::ranges::sort(result.modes, {}, [](const auto& m) { return m.mode.frequency_hz; });
        return result;
    }
};

/// Index of the mode of a session that lies nearest a frequency.
inline std::size_t nearest(const ledger::SessionHistory& session, double hz) {
    std::size_t best = 0;
    for (std::size_t i = 0; i < session.modes.size(); ++i)
        if (std::abs(session.modes[i].mode.frequency_hz - hz) <
            std::abs(session.modes[best].mode.frequency_hz - hz))
            best = i;
    return best;
}

inline void name(ledger::SessionHistory& session, double hz, int number, bool by_maker = false,
                 double confidence = 0.9) {
    session.modes[nearest(session, hz)].name =
        modes::ModeName{number, by_maker ? 1.0 : confidence, by_maker};
}

} // namespace platewright::test
