#include "trends/track/track.hpp"

#include "trends/track/pairing.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace platewright::trends {

namespace {

constexpr double k_expected_scatter = 0.01; // of ln f about what was expected, for the confidence

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

// What a name says of it: the maker's word all, a found one what it is worth.
double told(const ledger::ModeRecord& record, const Strand& strand) {
    if (!record.name)
        return 0.0;
    if (record.name->by_maker)
        return 1.0;
    return strand.found_number() == record.name->number ? record.name->confidence : 0.0;
}

void take_session(std::vector<Strand>& strands, const ledger::PlateHistory& history,
                  std::span<Conditions> conditions, std::size_t index) {
    const ledger::SessionHistory& session = history.sessions[index];
    const Pairing pairing = pair_with(strands, history, conditions, index);
    std::vector<bool> taken(session.modes.size(), false);
    for (std::size_t i = 0; i < pairing.mode_of_strand.size(); ++i) {
        const std::size_t mode = pairing.mode_of_strand[i];
        if (mode == k_no_mode)
            continue;
        taken[mode] = true;
        const double sure = std::max(
            told(session.modes[mode], strands[i]),
            confidence(strands[i].expected_in(index).mode, pairing.common_ratio, mode, session));
        strands[i].add({index, mode, session.modes[mode].mode, sure});
    }
    for (std::size_t mode = 0; mode < session.modes.size(); ++mode)
        if (!taken[mode])
            strands.emplace_back(history, conditions,
                                 TrackPoint{index, mode, session.modes[mode].mode, 1.0});
}

bool comes_before(const Track& a, const Track& b) {
    if (a.name.has_value() != b.name.has_value())
        return a.name.has_value();
    if (a.name)
        return a.name->number < b.name->number;
    return a.points.back().value.frequency_hz < b.points.back().value.frequency_hz;
}

} // namespace

int shape_of(modes::Part part, modes::Stage stage) {
    if (part == modes::Part::back)
        return 0;
    if (part == modes::Part::body)
        return stage == modes::Stage::set_up ? 4 : 3;
    switch (stage) {
    case modes::Stage::f_holes_cut:
        return 1;
    case modes::Stage::bar_fitted:
    case modes::Stage::finished:
    case modes::Stage::closed:
    case modes::Stage::varnished:
    case modes::Stage::set_up:
        return 2;
    default:
        return 0;
    }
}

const ledger::ModeRecord* find_mode(std::span<const ledger::ModeRecord> modes, int number) {
    const auto found = std::ranges::find_if(modes, [number](const ledger::ModeRecord& record) {
        return record.name && record.name->number == number;
    });
    return found == modes.end() ? nullptr : &*found;
}

const Track* find_track(std::span<const Track> tracks, int number) {
    const auto found = std::ranges::find_if(tracks, [number](const Track& track) {
        return track.name && track.name->number == number;
    });
    return found == tracks.end() ? nullptr : &*found;
}

namespace {

struct Claim {
    modes::ModeName name;
    double evidence = 0; // sum of the confidences behind it
};

std::optional<Claim> claim_of(const Track& track, const ledger::PlateHistory& history) {
    std::map<int, double> evidence;
    std::optional<Claim> newest_by_maker;
    for (const TrackPoint& point : track.points) {
        const auto& name = history.sessions[point.session].modes[point.mode].name;
        if (!name)
            continue;
        evidence[name->number] += name->confidence;
        if (name->by_maker)
            newest_by_maker = Claim{*name, 0.0};
    }
    if (newest_by_maker) {
        newest_by_maker->evidence = evidence[newest_by_maker->name.number];
        return newest_by_maker;
    }
    if (evidence.empty())
        return std::nullopt;
    const auto best =
        std::ranges::max_element(evidence, {}, [](const auto& e) { return e.second; });
    double all = 0.0;
    int sessions = 0;
    for (const TrackPoint& point : track.points)
        if (const auto& name = history.sessions[point.session].modes[point.mode].name) {
            all += name->confidence;
            sessions += name->number == best->first ? 1 : 0;
        }
    // Confidence of the sessions that say so, lessened by what the others say against it.
    const double confidence = best->second / sessions * best->second / all;
    return Claim{{best->first, confidence, false}, best->second};
}

bool stronger(const Claim& a, const Claim& b) {
    if (a.name.by_maker != b.name.by_maker)
        return a.name.by_maker;
    return a.evidence > b.evidence;
}

/// Gives each track its name from the names of its modes: the maker's newest word, else the number
/// that the found names speak for most, by confidence. A number is borne by one track only: the
/// maker's word wins, then the stronger evidence.
void name_tracks(std::vector<Track>& tracks, const ledger::PlateHistory& history) {
    std::map<int, std::pair<std::size_t, Claim>> owner;
    for (std::size_t i = 0; i < tracks.size(); ++i) {
        const std::optional<Claim> claim = claim_of(tracks[i], history);
        if (!claim)
            continue;
        const auto [held, fresh] = owner.try_emplace(claim->name.number, i, *claim);
        if (!fresh && stronger(*claim, held->second.second))
            held->second = {i, *claim};
    }
    for (const auto& [number, holder] : owner)
        tracks[holder.first].name = holder.second.name;
}

} // namespace

std::vector<Track> follow(const ledger::PlateHistory& history) {
    std::vector<Conditions> conditions = conditions_of(history);
    std::vector<Strand> strands;
    for (std::size_t i = 0; i < history.sessions.size(); ++i)
        if (!history.sessions[i].modes.empty())
            take_session(strands, history, conditions, i);
    std::vector<Track> tracks;
    for (const Strand& strand : strands)
        tracks.push_back(strand.track());
    name_tracks(tracks, history);
    std::ranges::stable_sort(tracks, comes_before);
    return tracks;
}

} // namespace platewright::trends
