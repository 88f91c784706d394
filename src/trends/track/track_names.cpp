#include "trends/track/strand.hpp"

#include <algorithm>
#include <map>

namespace platewright::trends {
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

} // namespace

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

} // namespace platewright::trends
