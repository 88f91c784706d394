// Tracks through dry and wet spells. The physics of water in wood here is not the program's: the
// moisture at which wood settles is read from a table, stiffness from another, and a mode is a sum
// of what bends along the grain, across it and twists.
#include "modes/name/name.hpp"
#include "support/catch.hpp"
#include "trends/air/in_air.hpp"
#include "trends/track/track.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <random>

using namespace platewright;
using namespace platewright::trends;

namespace {

/// Moisture of wood (% of dry mass) at 21 C and 30, 35 ... 65 % humidity. Source: USDA Wood
/// Handbook, FPL-GTR-190 (2010), table 4-2, row 70 F (from memory).
double settled_moisture(double humidity_pct) {
    constexpr std::array table{6.2, 6.9, 7.7, 8.5, 9.2, 10.1, 11.0, 12.0};
    const double at = std::clamp((humidity_pct - 30.0) / 5.0, 0.0, 6.999);
    const auto i = static_cast<std::size_t>(at);
    return std::lerp(table[i], table[i + 1], at - static_cast<double>(i));
}

/// Change of stiffness from 12 to 6 % moisture: along the grain +9 %, across it +20 %, in shear
/// +20 %. Source: C. C. Gerhards, Wood and Fiber 14 (1982), in the Wood Handbook's table 5-15 (from
/// memory).
double stiffness(double moisture_pct, double at_6_pct) {
    return std::pow(1.0 + at_6_pct, (12.0 - moisture_pct) / 6.0);
}

/// Thickness swells by some 0.2 % for one % of moisture (maple and spruce shrink by 4 to 5 % in the
/// mean of their directions from 28 % to dry: Wood Handbook, table 4-3, from memory).
double thickness(double moisture_pct) { return 1.0 + 0.002 * (moisture_pct - 12.0); }

struct Law {
    int number = 0; ///< 0: a mode that bears none
    double hz = 0, exponent = 1, along = 0.3, q = 60;
    std::array<double, 2> spots_db{};
};

struct Instrument {
    modes::InstrumentKind kind;
    modes::Part part;
    double scale; ///< of the violin's frequencies
    double mass_g;
};

/// A plate through a year in the workshop: every mode bears its truth in `id`.
class Year {
public:
    Year(unsigned seed, const Instrument& instrument) : random_{seed}, instrument_{instrument} {
        // A violin back's first modes: C. M. Hutchins, Scientific American, October 1981 (from
        // memory); beyond them one every 4 to 20 %.
        const auto add = [&](int number, double hz, double exponent, double along, double q,
                             std::array<double, 2> spots_db) {
            laws_.push_back({number, instrument_.scale * hz * std::exp(0.03 * normal()), exponent,
                             along, q * std::exp(0.1 * normal()), spots_db});
        };
        add(1, 116, 1.0, 0.05, 50, {-25, -12});
        add(2, 167, 1.0, 0.3, 56, {-14, 0});
        add(0, 222, 0.95, 0.25, 58, {-12, -6});
        add(0, 237, 0.95, 0.35, 61, {-8, -10});
        add(5, 349, 0.6, 0.5, 64, {0, -11});
        double hz = 349 * between(1.06, 1.2);
        while (hz < 900.0) {
            add(0, hz, between(0.5, 1.0), between(0.1, 0.7), between(45, 80),
                {between(-15, 0), between(-15, 0)});
            hz *= between(1.06, 1.2);
        }
    }

    ledger::PlateHistory history(int sessions, bool sudden) {
        std::vector<double> airs;
        for (int i = 0; i < sessions; ++i)
            airs.push_back(sudden ? (i % 3 == 2 ? 32.0 : 62.0) + between(-2, 2)
                                  : between(30.0, 65.0));
        return in_these_airs(airs);
    }

    /// Sessions some days apart, each with its air; the plate has settled to it by a half to all.
    ledger::PlateHistory in_these_airs(const std::vector<double>& humidity_pct) {
        ledger::PlateHistory history;
        history.instrument.kind = instrument_.kind;
        history.plate.part = instrument_.part;
        double dry_g = instrument_.mass_g * 1.25 / 1.085;
        double moisture = settled_moisture(humidity_pct.front());
        for (std::size_t i = 0; i < humidity_pct.size(); ++i) {
            const double humidity = humidity_pct[i];
            moisture += between(0.5, 1.0) * (settled_moisture(humidity) - moisture);
            ledger::SessionHistory one = session(dry_g, moisture, i == 0);
            one.session.id = static_cast<ledger::Id>(i) + 1;
            one.session.temperature_c = 21.0 + between(-1.5, 1.5);
            one.session.humidity_pct = humidity;
            history.sessions.push_back(std::move(one));
            dry_g *= 1.0 - between(0.0, 0.03);
        }
        return history;
    }

private:
    double between(double low, double high) {
        return std::uniform_real_distribution<double>{low, high}(random_);
    }
    double normal() { return std::normal_distribution<double>{}(random_); }

    double frequency(const Law& law, double dry_g, double moisture) {
        const double now = std::sqrt(law.along * stiffness(moisture, 0.09) +
                                     (1.0 - law.along) * stiffness(moisture, 0.20));
        const double mass = dry_g * 1.085 / instrument_.mass_g;
        // Bending stiffness goes with thickness cubed, mass with the water.
        return law.hz * std::pow(mass, law.exponent) * now * std::pow(thickness(moisture), 1.5) /
               std::sqrt((1.0 + moisture / 100.0) / 1.12);
    }

    ledger::SessionHistory session(double dry_g, double moisture, bool all_numbered) {
        ledger::SessionHistory result;
        result.session.mass_g = dry_g * (1.0 + moisture / 100.0) + 0.05 * normal();
        const double hold = 0.0025 * normal();
        for (std::size_t k = 0; k < laws_.size(); ++k) {
            Law& law = laws_[k];
            law.hz *= std::exp(0.004 * normal()); // where the wood was taken
            const bool is_missed = between(0.0, 1.0) < (law.number == 0 ? 0.1 : 0.03);
            if (is_missed && !(all_numbered && law.number != 0))
                continue;
            add(result, frequency(law, dry_g, moisture) * std::exp(hold + 0.0025 * normal()), law,
                static_cast<ledger::Id>(k + 1));
        }
        if (between(0.0, 1.0) < 0.5) // a chair, a lamp, the bench
            add(result, instrument_.scale * between(90.0, 900.0),
                {0, 0, 1, 0, between(40, 90), {between(-15, 0), between(-15, 0)}}, 0);
        std::ranges::sort(result.modes, {}, [](const auto& m) { return m.mode.frequency_hz; });
        return result;
    }

    void add(ledger::SessionHistory& session, double hz, const Law& law, ledger::Id truth) {
        ledger::ModeRecord record;
        record.id = truth;
        record.mode.frequency_hz = hz;
        record.mode.frequency_sd_hz = 0.1;
        record.mode.spread_hz = 0.3;
        record.mode.q = law.q * std::exp(0.06 * normal());
        record.mode.level_db = law.number == 5 ? 0.0 : between(-14.0, -3.0);
        record.mode.taps = 6;
        record.mode.spots = {{taps::Spot::centre, law.spots_db[0] + 2.0 * normal(), 1.0, 3},
                             {taps::Spot::lower_end, law.spots_db[1] + 2.0 * normal(), 1.0, 3}};
        session.modes.push_back(record);
    }

    std::mt19937_64 random_;
    Instrument instrument_;
    std::vector<Law> laws_;
};

constexpr std::array k_instruments{
    Instrument{modes::InstrumentKind::violin, modes::Part::back, 1.0, 105.0},
    Instrument{modes::InstrumentKind::viola, modes::Part::back, 0.78, 170.0},
    Instrument{modes::InstrumentKind::cello, modes::Part::back, 0.40, 700.0},
};

/// The truth of the numbered modes, by the order in which Year adds its laws.
constexpr std::array<std::pair<int, ledger::Id>, 3> k_named{{{1, 1}, {2, 2}, {5, 5}}};

enum class Names { by_hand_once, as_entered };

/// As the bench names them when each session is entered: by what was known of the plate then.
void enter_names(ledger::PlateHistory& history) {
    EarlierSessions earlier;
    for (ledger::SessionHistory& session : history.sessions) {
        std::vector<modes::Mode> found;
        for (const ledger::ModeRecord& record : session.modes)
            found.push_back(record.mode);
        const modes::Naming naming =
            modes::name_modes(found,
                              {history.instrument.kind, history.plate.part, session.session.stage,
                               session.session.mass_g},
                              earlier.seen_from(session.session));
        for (std::size_t i = 0; i < found.size(); ++i)
            session.modes[i].name = naming.modes[i].name;
        earlier.add(session);
    }
}

/// Each in the first session in which it is found.
void name_by_hand(ledger::PlateHistory& history) {
    for (const auto& [number, truth] : k_named)
        for (ledger::SessionHistory& session : history.sessions) {
            const auto found = std::ranges::find(session.modes, truth, &ledger::ModeRecord::id);
            if (found == session.modes.end())
                continue;
            found->name = modes::ModeName{number, 1.0, true};
            break;
        }
}

struct Score {
    int there = 0;   ///< times that a numbered mode was found in a session
    int lost = 0;    ///< and its track has no point there
    int swapped = 0; ///< or another mode's
};

void count(const ledger::PlateHistory& history, Score& score) {
    const std::vector<Track> tracks = follow(history);
    for (const auto& [number, truth] : k_named) {
        const auto bears_it = [&](const ledger::ModeRecord& m) {
            return m.id == truth && m.name && m.name->number == number;
        };
        if (std::ranges::none_of(history.sessions, [&](const ledger::SessionHistory& session) {
                return std::ranges::any_of(session.modes, bears_it);
            }))
            continue; // no session names it: that is naming's affair
        const Track* track = find_track(tracks, number);
        for (std::size_t s = 0; s < history.sessions.size(); ++s) {
            const auto& modes = history.sessions[s].modes;
            const bool is_there =
                std::ranges::any_of(modes, [&](const auto& m) { return m.id == truth; });
            const TrackPoint* point = nullptr;
            if (track != nullptr)
                for (const TrackPoint& one : track->points)
                    if (one.session == s)
                        point = &one;
            const bool is_other = point != nullptr && modes[point->mode].id != truth;
            score.there += is_there ? 1 : 0;
            score.swapped += is_other ? 1 : 0;
            score.lost += is_there && point == nullptr ? 1 : 0;
        }
    }
}

Score score(const Instrument& instrument, Names names, unsigned first_seed, unsigned seeds) {
    Score score;
    for (unsigned seed = first_seed; seed < first_seed + seeds; ++seed)
        for (const bool sudden : {false, true}) {
            const auto kind = static_cast<unsigned>(instrument.kind);
            ledger::PlateHistory history = Year{seed + 1000 * kind, instrument}.history(12, sudden);
            if (names == Names::as_entered)
                enter_names(history);
            else
                name_by_hand(history);
            count(history, score);
        }
    return score;
}

// Two plates of each kind a seed in twelve sessions: half in whatever air between 30 and 65 %
// humidity, half wet with every third session dry; 3 in 100 numbered modes not found after the
// first session, 10 of the others. The rates are printed: docs/physics.md has them.
void check_year(unsigned first_seed, unsigned seeds, double most) {
    for (const Instrument& instrument : k_instruments)
        for (const Names names : {Names::by_hand_once, Names::as_entered}) {
            const Score s = score(instrument, names, first_seed, seeds);
            const double rate = static_cast<double>(s.lost + s.swapped) / s.there;
            WARN(modes::to_word(instrument.kind)
                 << (names == Names::as_entered ? ", named as entered: " : ", named by hand once: ")
                 << s.lost << " lost, " << s.swapped << " swapped of " << s.there << ", "
                 << 100.0 * rate << " %");
            CHECK(s.there > 3000);
            CHECK(rate <= most);
        }
}

} // namespace

// The tracker's constants were set over these very seeds: what they hold is that it does not get
// worse.
TEST_CASE("of the modes that bear a number at most 1 in 200 is lost or swapped between 30 and 65 % "
          "humidity") {
    check_year(1, 60, 0.005);
}

// 320 plates of each kind that nothing was set over: the rate to be reported.
TEST_CASE("of plates never looked at no more are lost or swapped") { check_year(801, 160, 0.005); }

// From the fault as it was found: a cello from 55 to 42 % humidity, a viola from 55 to 38 %.
TEST_CASE("a dry spell loses no mode, and a name given by hand does not make it worse") {
    struct Spell {
        Instrument instrument;
        double dry_pct;
    };
    for (const Spell& spell : {Spell{k_instruments[2], 42.0}, Spell{k_instruments[1], 38.0}})
        for (const bool by_hand : {false, true}) {
            Year year{7, spell.instrument};
            ledger::PlateHistory history = year.in_these_airs({55.0, 55.0, spell.dry_pct, 55.0});
            enter_names(history);
            if (by_hand)
                name_by_hand(history);
            Score found;
            count(history, found);
            CAPTURE(spell.dry_pct, by_hand);
            CHECK(found.there >= 11);
            CHECK(found.lost + found.swapped == 0);
        }
}

TEST_CASE("a number given by hand goes on with that number, whatever else speaks against it") {
    ledger::PlateHistory history = Year{5, k_instruments[0]}.in_these_airs({50.0, 50.0, 50.0});
    enter_names(history);
    // In the last session the maker calls another mode 5, far from where it was.
    ledger::SessionHistory& last = history.sessions.back();
    const auto other = std::ranges::find(last.modes, ledger::Id{7}, &ledger::ModeRecord::id);
    REQUIRE(other != last.modes.end());
    for (ledger::ModeRecord& mode : last.modes)
        if (mode.name && mode.name->number == 5)
            mode.name.reset();
    other->name = modes::ModeName{5, 1.0, true};
    const std::vector<Track> tracks = follow(history);
    const Track* ring = find_track(tracks, 5);
    REQUIRE(ring != nullptr);
    CHECK(ring->name->by_maker);
    CHECK(last.modes[ring->points.back().mode].id == 7);
}
