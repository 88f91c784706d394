#include "trends/track/pairing.hpp"

#include "base/stats.hpp"
#include "modes/pool/assignment.hpp"
#include "modes/pool/match.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace platewright::trends {

namespace {

// Once the air, the mass and what all modes do in common are accounted for, where the wood was
// taken still moves each mode its own way by some percent; f-holes and bar by far more.
constexpr double k_gate = 0.05;
constexpr double k_gate_new_shape = 0.10;
constexpr double k_gate_set_up = 0.18;     // the post lifts A0 by an eighth and leaves the others
constexpr double k_farthest_common = 0.15; // f-holes lower modes, the bar raises them, in common
constexpr double k_farthest_unread = 0.06; // of a plate whose air or mass was not read
constexpr double k_common_step = 0.01;
// A plate takes hours to a day to settle to its air: by so much of the shift all of it may be off.
constexpr double k_unsettled = 0.8;
// Of ln f, for one % of moisture more at one mass on the scales: the middle of k_any_response, and
// the wood that is then less, at the usual exponent.
constexpr double k_per_moisture_pct = 0.0145 + 0.8 * 0.0092;
constexpr double k_per_degree = 0.0035;

constexpr double k_alone = 1.0;      // cost of leaving both alone, as modes::match has it
constexpr double k_forced = -1000.0; // the maker's word
constexpr double k_same_name = 0.7;  // less, where a sure name says it is the same
constexpr double k_named_gate = 2.0; // times the gates, likewise
constexpr double k_other_name = 0.6; // on top
// A strand without a name that was found once may be a chair's, and must not take the mode of one
// that was named; nor a named one that began lately beside older ones, whose strand a chair misled.
// Both set on seeds 1 to 460 of tests/trends/seasons_test.cpp.
constexpr double k_unknown = 1.2;
constexpr double k_newcomer = 0.3;

std::vector<modes::Mode> modes_of(const ledger::SessionHistory& session) {
    std::vector<modes::Mode> modes;
    for (const ledger::ModeRecord& record : session.modes)
        modes.push_back(record.mode);
    return modes;
}

// The ratio all modes have in common beyond what was expected, from a first pairing around one.
double common_ratio(std::span<const modes::Mode> expected, std::span<const modes::Mode> found,
                    double around = 1.0) {
    std::vector<double> ratios;
    for (const modes::Pair& pair :
         modes::match(expected, found, {.frequency_ratio = k_gate, .expected_ratio = around}))
        ratios.push_back(found[pair.b].frequency_hz / expected[pair.a].frequency_hz);
    constexpr std::size_t k_fewest = 3;
    return ratios.size() < k_fewest ? around : base::median(ratios);
}

// The same where the plate may have moved by more than its modes lie apart: the ratio under which
// most modes find a partner, the nearest to 1 among equals.
double searched_ratio(std::span<const modes::Mode> expected, std::span<const modes::Mode> found,
                      double farthest) {
    double best_ratio = 1.0, best_score = -1.0;
    const int steps = static_cast<int>(std::lround(farthest / k_common_step));
    for (int i = -steps; i <= steps; ++i) {
        const double ratio = std::exp(i * k_common_step);
        const double unlikely = static_cast<double>(i * i) / (steps * steps);
        double score = -unlikely;
        for (const modes::Pair& pair :
             modes::match(expected, found, {.frequency_ratio = k_gate, .expected_ratio = ratio}))
            score += 1.0 - pair.cost;
        if (score > best_score) {
            best_score = score;
            best_ratio = ratio;
        }
    }
    return common_ratio(expected, found, best_ratio);
}

/// What has happened to the plate since its modes were last found.
struct Situation {
    bool is_new_shape = false;
    bool is_unread = false; // air or mass, now or then
    double by_air = 0.0;    // of ln f, that the air would move a mode once settled
    /// How far all modes may lie off what was foreseen, together.
    [[nodiscard]] double farthest() const {
        return is_new_shape ? k_farthest_common
               : is_unread  ? k_farthest_unread
                            : std::min(k_unsettled * by_air, k_farthest_unread);
    }
};

Situation situation_of(std::span<const Strand> strands, std::span<const Conditions> conditions,
                       std::size_t session) {
    const Conditions& now = conditions[session];
    Situation situation{false, !now.is_weighed || !now.is_air_known};
    for (const Strand& strand : strands) {
        const Conditions& then = conditions[strand.last_session()];
        situation.is_new_shape |= then.shape != now.shape;
        situation.is_unread |= !then.is_weighed || !then.is_air_known;
        const double air = std::abs(k_per_moisture_pct * (now.moisture_pct - then.moisture_pct)) +
                           std::abs(k_per_degree * (now.temperature_c - then.temperature_c));
        situation.by_air = std::max(situation.by_air, air);
    }
    return situation;
}

/// How the names that strand and mode bear change what their pairing costs.
class Names {
public:
    explicit Names(std::span<const Strand> strands) : strands_{strands} {}

    double cost(const Strand& strand, const ledger::ModeRecord& record, const modes::Mode& expected,
                const modes::MatchGates& gates) const {
        const double plain =
            modes::match_cost(expected, record.mode, gates) + newcomer_cost(strand);
        if (!record.name)
            return plain;
        const int number = record.name->number;
        const std::optional<int> makers = strand.makers_number();
        if (record.name->by_maker) {
            if (makers)
                return *makers == number ? k_forced : modes::k_impossible_match;
            return is_makers(number) || strand.found_number() != number
                       ? plain
                       : bound(record, expected, gates);
        }
        if (record.name->confidence < k_sure_name || makers || is_makers(number))
            return plain; // a found name does not speak against the maker's
        if (const std::optional<int> found = strand.found_number())
            return *found == number ? bound(record, expected, gates) : plain + k_other_name;
        return plain;
    }

private:
    bool is_makers(int number) const {
        return std::ranges::any_of(
            strands_, [number](const Strand& strand) { return strand.makers_number() == number; });
    }

    double newcomer_cost(const Strand& strand) const {
        const std::vector<TrackPoint>& points = strand.track().points;
        const bool is_beside_older =
            points.front().session > strands_.front().track().points.front().session;
        const double doubt = !strand.is_named() ? k_unknown : is_beside_older ? k_newcomer : 0.0;
        return doubt / static_cast<double>(points.size());
    }

    static double bound(const ledger::ModeRecord& record, const modes::Mode& expected,
                        modes::MatchGates gates) {
        gates.frequency_ratio *= k_named_gate;
        gates.log_q *= k_named_gate;
        return modes::match_cost(expected, record.mode, gates) - k_same_name;
    }

    std::span<const Strand> strands_;
};

std::size_t newest_of(std::span<const Strand> strands) {
    std::size_t newest = 0;
    for (const Strand& strand : strands)
        newest = std::max(newest, strand.last_session());
    return newest;
}

std::vector<modes::Mode> expected_in(std::span<const Strand> strands,
                                     std::span<const std::size_t> awake, std::size_t session) {
    std::vector<modes::Mode> expected;
    for (const std::size_t i : awake)
        expected.push_back(strands[i].expected_in(session).mode);
    return expected;
}

/// What all modes have in common beyond what was foreseen: where the air is known, water that the
/// plate had not taken up yet, or not given off; else whatever it was. So a mode that was missing
/// in this session is not misled by it.
void settle(Conditions& session, const Situation& situation, double common_ratio) {
    if (situation.is_unread || situation.is_new_shape) {
        session.log_common += std::log(common_ratio);
        return;
    }
    const double wetter_pct = -std::log(common_ratio) / k_per_moisture_pct;
    session.log_dry_mass += std::log1p(session.moisture_pct / 100.0) -
                            std::log1p((session.moisture_pct + wetter_pct) / 100.0);
    session.moisture_pct += wetter_pct;
}

} // namespace

Pairing pair_with(std::span<const Strand> strands, const ledger::PlateHistory& history,
                  std::span<Conditions> conditions, std::size_t session) {
    Pairing pairing;
    pairing.mode_of_strand.assign(strands.size(), k_no_mode);
    std::vector<std::size_t> awake;
    for (std::size_t i = 0; i < strands.size(); ++i)
        if (!strands[i].sleeps_in(session))
            awake.push_back(i);
    const std::vector<ledger::ModeRecord>& records = history.sessions[session].modes;
    if (awake.empty() || records.empty())
        return pairing;
    const std::vector<modes::Mode> found = modes_of(history.sessions[session]);
    conditions[session].log_common = conditions[newest_of(strands)].log_common;
    const Situation situation = situation_of(strands, conditions, session);
    std::vector<modes::Mode> expected = expected_in(strands, awake, session);
    const double first = situation.farthest() > k_common_step
                             ? searched_ratio(expected, found, situation.farthest())
                             : common_ratio(expected, found);
    settle(conditions[session], situation, first);
    expected = expected_in(strands, awake, session);
    pairing.common_ratio = common_ratio(expected, found);
    const bool of_body = history.plate.part == modes::Part::body;
    const modes::MatchGates gates{.frequency_ratio = !situation.is_new_shape ? k_gate
                                                     : of_body               ? k_gate_set_up
                                                                             : k_gate_new_shape,
                                  .expected_ratio = pairing.common_ratio};
    const Names names{strands};
    Eigen::MatrixXd cost(std::ssize(awake), std::ssize(records));
    for (std::size_t r = 0; r < awake.size(); ++r)
        for (std::size_t c = 0; c < records.size(); ++c)
            cost(static_cast<Eigen::Index>(r), static_cast<Eigen::Index>(c)) =
                names.cost(strands[awake[r]], records[c], expected[r], gates);
    const std::vector<long> columns = modes::pair_or_leave(cost, k_alone);
    for (std::size_t r = 0; r < awake.size(); ++r)
        if (columns[r] >= 0 && cost(static_cast<Eigen::Index>(r), columns[r]) < 2.0 * k_alone)
            pairing.mode_of_strand[awake[r]] = static_cast<std::size_t>(columns[r]);
    return pairing;
}

} // namespace platewright::trends
