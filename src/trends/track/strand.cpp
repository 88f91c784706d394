#include "trends/track/strand.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace platewright::trends {

namespace {

const std::optional<modes::ModeName>& name_of(const ledger::PlateHistory& history,
                                              const TrackPoint& point) {
    return history.sessions[point.session].modes[point.mode].name;
}

const AirResponse& first_response(const ledger::PlateHistory& history, const TrackPoint& first) {
    const auto& name = name_of(history, first);
    return response_of(name ? std::optional{name->number} : std::nullopt);
}

} // namespace

Strand::Strand(const ledger::PlateHistory& history, std::span<const Conditions> conditions,
               TrackPoint first)
    : history_{&history}, conditions_{conditions}, law_{conditions[first.session],
                                                        first.value.frequency_hz,
                                                        first_response(history, first),
                                                        history.plate.part != modes::Part::body} {
    hear_name(first);
    usual_ = first.value;
    for (const modes::SpotLevel& spot : usual_.spots)
        struck_[spot.spot] = 1;
    track_.points.push_back(std::move(first));
}

void Strand::add(const TrackPoint& point) {
    law_.learn(conditions_[point.session], point.session - last_session(),
               point.value.frequency_hz);
    hear_name(point);
    remember(point.value);
    track_.points.push_back(point);
}

void Strand::hear_name(const TrackPoint& point) {
    const auto& name = name_of(*history_, point);
    if (!name)
        return;
    evidence_[name->number] += name->confidence;
    if (name->by_maker)
        by_maker_ = name->number;
}

ForeseenMode Strand::expected_in(std::size_t session) const {
    const ModeLaw::Foreseen foreseen = law_.foresee(conditions_[session], session - last_session());
    ForeseenMode expected{usual_, foreseen.log_sd};
    expected.mode.frequency_hz = std::exp(foreseen.log_hz);
    return expected;
}

void Strand::remember(const modes::Mode& mode) {
    const double sessions = static_cast<double>(track_.points.size()) + 1.0;
    if (mode.q > 0 && usual_.q > 0)
        usual_.q *= std::pow(mode.q / usual_.q, 1.0 / sessions);
    for (const modes::SpotLevel& spot : mode.spots) {
        const auto known = std::ranges::find(usual_.spots, spot.spot, &modes::SpotLevel::spot);
        if (known == usual_.spots.end()) {
            usual_.spots.push_back(spot);
            struck_[spot.spot] = 1;
        } else {
            known->level_db += (spot.level_db - known->level_db) / ++struck_[spot.spot];
        }
    }
}

std::optional<int> Strand::found_number() const {
    const auto most =
        std::ranges::max_element(evidence_, {}, [](const auto& e) { return e.second; });
    return most != evidence_.end() && most->second >= k_sure_name ? std::optional{most->first}
                                                                  : std::nullopt;
}

bool Strand::sleeps_in(std::size_t session) const {
    constexpr std::size_t k_least_missed = 8, k_times_found = 4;
    return !is_named() && session - last_session() >
                              std::max(k_least_missed, k_times_found * track_.points.size());
}

} // namespace platewright::trends
