// Tracks over simulated plates whose truth is known: how often a track goes on with the wrong mode.
#include "support/catch.hpp"
#include "trends/plate_story.hpp"
#include "trends/track/track.hpp"

#include <algorithm>

using namespace platewright;
using namespace platewright::trends;

namespace {

/// A history whose every mode carries its truth in `id`: 1 and up for a mode of the plate, 0 for
/// one that is none.
class SimulatedPlate {
public:
    explicit SimulatedPlate(unsigned seed) : random_{seed} {
        double hz = between(75.0, 120.0);
        while (hz < 1000.0) {
            laws_.push_back({hz, between(0.5, 1.1), between(45.0, 85.0), between(-12.0, 0.0)});
            hz *= between(1.04, 1.5);
        }
    }

    ledger::PlateHistory history(int sessions, double missing, bool weighed) {
        ledger::PlateHistory history;
        double mass = between(115.0, 135.0);
        for (int i = 0; i < sessions; ++i) {
            history.sessions.push_back(session(mass, missing));
            if (!weighed)
                history.sessions.back().session.mass_g.reset();
            mass -= between(1.5, 5.0);
        }
        return history;
    }

private:
    struct Law {
        double hz, exponent, q, centre_db;
    };

    double between(double low, double high) {
        return std::uniform_real_distribution<double>{low, high}(random_);
    }

    ledger::SessionHistory session(double mass, double missing) {
        std::normal_distribution<double> normal;
        ledger::SessionHistory result;
        result.session.mass_g = mass;
        const double air = 0.004 * normal(random_);
        for (std::size_t k = 0; k < laws_.size(); ++k) {
            if (between(0.0, 1.0) < missing)
                continue;
            const Law& law = laws_[k];
            const double scatter = air + 0.003 * normal(random_);
            add(result, law.hz * std::pow(mass / 100.0, law.exponent) * std::exp(scatter),
                law.q * std::exp(0.06 * normal(random_)), law.centre_db + 2.0 * normal(random_),
                static_cast<ledger::Id>(k + 1));
        }
        if (between(0.0, 1.0) < 0.5) // a chair, a lamp, the bench
            add(result, between(80.0, 1000.0), between(40.0, 90.0), between(-15.0, 0.0), 0);
        std::ranges::sort(result.modes, {}, [](const auto& m) { return m.mode.frequency_hz; });
        return result;
    }

    static void add(ledger::SessionHistory& session, double hz, double q, double centre_db,
                    ledger::Id truth) {
        ledger::ModeRecord record;
        record.id = truth;
        record.mode.frequency_hz = hz;
        record.mode.q = q;
        record.mode.taps = 6;
        record.mode.spots = {{taps::Spot::centre, centre_db, 1.0, 3},
                             {taps::Spot::lower_end, 0.0, 1.0, 3}};
        session.modes.push_back(record);
    }

    std::mt19937_64 random_;
    std::vector<Law> laws_;
};

struct TrackScore {
    int steps = 0, wrong = 0; ///< from a real mode to the next point of its track
    int sure_and_wrong = 0;   ///< among them those called likelier than not
};

TrackScore track_score(double missing, bool weighed) {
    TrackScore score;
    for (unsigned seed = 1; seed <= 60; ++seed) {
        const ledger::PlateHistory history = SimulatedPlate{seed}.history(9, missing, weighed);
        for (const Track& track : follow(history))
            for (std::size_t i = 1; i < track.points.size(); ++i) {
                const TrackPoint &a = track.points[i - 1], &b = track.points[i];
                const ledger::Id from = history.sessions[a.session].modes[a.mode].id;
                const ledger::Id to = history.sessions[b.session].modes[b.mode].id;
                if (from == 0)
                    continue;
                score.steps += 1;
                score.wrong += from != to ? 1 : 0;
                score.sure_and_wrong += from != to && b.confidence > 0.5 ? 1 : 0;
            }
    }
    return score;
}

} // namespace

// Sixty plates of nine sessions, modes 4 to 50 % apart, each with a power law of its own (some
// cross), 0.3 % of scatter and 0.4 % of air, a strange line in every other session (common
// practice, no source, for the sizes). The bounds are twice what was found when this was written.
TEST_CASE("along simulated tracks fewer than 1 step in 100 goes astray, with 1 in 10 modes missed "
          "fewer than 3") {
    const TrackScore all_found = track_score(0.0, true);
    CAPTURE(all_found.steps, all_found.wrong, all_found.sure_and_wrong);
    CHECK(all_found.steps > 4000);
    CHECK(all_found.wrong < 0.006 * all_found.steps);
    const TrackScore some_missed = track_score(0.1, true);
    CAPTURE(some_missed.steps, some_missed.wrong, some_missed.sure_and_wrong);
    CHECK(some_missed.wrong < 0.010 * some_missed.steps);
    CHECK(some_missed.sure_and_wrong < 0.005 * some_missed.steps);
}

TEST_CASE("without a mass, fewer than 8 steps in 1000 of simulated tracks go astray") {
    const TrackScore score_unweighed = track_score(0.0, false);
    CAPTURE(score_unweighed.steps, score_unweighed.wrong, score_unweighed.sure_and_wrong);
    CHECK(score_unweighed.wrong < 0.008 * score_unweighed.steps);
}
