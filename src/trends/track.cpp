#include "trends/track.hpp"

#include "base/stats.hpp"
#include "modes/match.hpp"
#include "trends/strand.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::trends {
namespace {

constexpr std::size_t k_none = static_cast<std::size_t>(-1);

// Once the mass and what all modes do in common are accounted for, where the wood was taken still
// moves each mode its own way by some percent; f-holes and bar by far more.
constexpr double k_gate = 0.05;
constexpr double k_gate_new_shape = 0.10;
constexpr double k_gate_set_up = 0.18;     // the post lifts A0 by an eighth and leaves the others
constexpr double k_farthest_common = 0.15; // f-holes lower modes, the bar raises them, in common
constexpr double k_common_step = 0.01;
constexpr double k_expected_scatter = 0.01; // of ln f about what was expected, for the confidence

std::vector<modes::Mode> modes_of(const ledger::SessionHistory& session) {
    std::vector<modes::Mode> modes;
    for (const ledger::ModeRecord& record : session.modes)
        modes.push_back(record.mode);
    return modes;
}

/// Which strand goes on with which mode of a session.
struct Continuation {
    std::vector<std::size_t> mode_of_strand; // k_none where it was not found
    double common_ratio = 1.0;
};

// The ratio all modes have in common beyond what was expected, from a first, wide pairing.
double common_ratio(std::span<const modes::Mode> expected, std::span<const modes::Mode> found) {
    std::vector<double> ratios;
    for (const modes::Pair& pair : modes::match(expected, found, {.frequency_ratio = k_gate}))
        ratios.push_back(found[pair.b].frequency_hz / expected[pair.a].frequency_hz);
    constexpr std::size_t k_fewest = 3;
    return ratios.size() < k_fewest ? 1.0 : base::median(ratios);
}

// The same where the plate has changed shape and may have moved by more than its modes lie apart:
// the ratio under which most modes find a partner, the nearest to 1 among equals.
double common_ratio_new_shape(std::span<const modes::Mode> expected,
                              std::span<const modes::Mode> found) {
    double best_ratio = 1.0, best_score = -1.0;
    const int steps = static_cast<int>(std::lround(k_farthest_common / k_common_step));
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
    return best_ratio;
}

Continuation continue_by_match(const std::vector<Strand>& strands,
                               const ledger::PlateHistory& history, std::size_t session) {
    std::vector<modes::Mode> expected;
    bool new_shape = false;
    const int shape = shape_of(history.plate.part, history.sessions[session].session.stage);
    for (const Strand& strand : strands) {
        expected.push_back(strand.expected_in(session));
        const std::size_t last = strand.track().points.back().session;
        new_shape |= shape_of(history.plate.part, history.sessions[last].session.stage) != shape;
    }
    const std::vector<modes::Mode> found = modes_of(history.sessions[session]);
    const bool of_body = history.plate.part == modes::Part::body;
    Continuation result;
    result.mode_of_strand.assign(strands.size(), k_none);
    result.common_ratio =
        new_shape ? common_ratio_new_shape(expected, found) : common_ratio(expected, found);
    const modes::MatchGates gates{.frequency_ratio = !new_shape ? k_gate
                                                     : of_body  ? k_gate_set_up
                                                                : k_gate_new_shape,
                                  .expected_ratio = result.common_ratio};
    for (const modes::Pair& pair : modes::match(expected, found, gates))
        result.mode_of_strand[pair.a] = pair.b;
    return result;
}

// The maker's word outweighs any pairing: a mode the maker calls by a number goes on with the
// strand the maker called so before, which gives its own in exchange; and with no strand called
// otherwise.
void obey_maker(Continuation& continuation, const std::vector<Strand>& strands,
                const ledger::SessionHistory& session) {
    std::vector<std::size_t>& mode_of = continuation.mode_of_strand;
    for (std::size_t mode = 0; mode < session.modes.size(); ++mode) {
        const auto& name = session.modes[mode].name;
        if (!name || !name->by_maker)
            continue;
        const auto meant = std::ranges::find_if(
            strands, [&](const Strand& strand) { return strand.makers_number() == name->number; });
        const auto holder = std::ranges::find(mode_of, mode);
        if (meant != strands.end()) {
            std::size_t& owned = mode_of[static_cast<std::size_t>(meant - strands.begin())];
            if (holder != mode_of.end())
                *holder = owned;
            owned = mode;
        } else if (holder != mode_of.end()) {
            const auto index = static_cast<std::size_t>(holder - mode_of.begin());
            if (strands[index].makers_number())
                *holder = k_none;
        }
    }
}

// How far a mode stands out among its session's as the strand's own: its likelihood about what was
// expected, against that of every other mode and of none being the one.
double confidence(const modes::Mode& expected, double ratio, std::size_t chosen,
                  const ledger::SessionHistory& session) {
    constexpr double k_three_deviations = 0.0111; // exp(-9/2): as likely as none of them
    const auto likelihood = [&](const modes::Mode& mode) {
        const double away = std::log(mode.frequency_hz / (expected.frequency_hz * ratio));
        return std::exp(-0.5 * away * away / (k_expected_scatter * k_expected_scatter));
    };
    double all = k_three_deviations;
    for (const ledger::ModeRecord& record : session.modes)
        all += likelihood(record.mode);
    return likelihood(session.modes[chosen].mode) / all;
}

void take_session(std::vector<Strand>& strands, const ledger::PlateHistory& history,
                  std::size_t index) {
    const ledger::SessionHistory& session = history.sessions[index];
    Continuation continuation = continue_by_match(strands, history, index);
    obey_maker(continuation, strands, session);
    std::vector<bool> taken(session.modes.size(), false);
    for (std::size_t i = 0; i < continuation.mode_of_strand.size(); ++i) {
        const std::size_t mode = continuation.mode_of_strand[i];
        if (mode == k_none)
            continue;
        taken[mode] = true;
        const bool told = session.modes[mode].name && session.modes[mode].name->by_maker;
        const double sure = told ? 1.0
                                 : confidence(strands[i].expected_in(index),
                                              continuation.common_ratio, mode, session);
        strands[i].add({index, mode, session.modes[mode].mode, sure});
    }
    for (std::size_t mode = 0; mode < session.modes.size(); ++mode)
        if (!taken[mode])
            strands.emplace_back(history, TrackPoint{index, mode, session.modes[mode].mode, 1.0});
}

bool comes_before(const Track& a, const Track& b) {
    if (a.name.has_value() != b.name.has_value())
        return a.name.has_value();
    if (a.name)
        return a.name->number < b.name->number;
    return a.points.back().value.frequency_hz < b.points.back().value.frequency_hz;
}

} // namespace

std::vector<Track> follow(const ledger::PlateHistory& history) {
    std::vector<Strand> strands;
    for (std::size_t i = 0; i < history.sessions.size(); ++i)
        if (!history.sessions[i].modes.empty())
            take_session(strands, history, i);
    std::vector<Track> tracks;
    for (const Strand& strand : strands)
        tracks.push_back(strand.track());
    name_tracks(tracks, history);
    std::ranges::stable_sort(tracks, comes_before);
    return tracks;
}

const Track* find_track(std::span<const Track> tracks, int number) {
    const auto found = std::ranges::find_if(tracks, [number](const Track& track) {
        return track.name && track.name->number == number;
    });
    return found == tracks.end() ? nullptr : &*found;
}

} // namespace platewright::trends
