#include "base/interval.hpp"
#include "screen/plates/drift_view.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::screen {
namespace {

/// The mode that makers steer by, of those that bear a name: 5, else the first.
std::optional<int> steered_by(const bench::PlateView& plate) {
    std::optional<int> first;
    for (const trends::TrackDrift& drift : plate.drift.tracks) {
        if (drift.track.name && (!first || drift.track.name->number == 5)) {
            first = drift.track.name->number;
        }
    }
    return first;
}

/// The most that setting over adds to this mode's deviation in any session.
double set_over_sd_hz(const bench::PlateView& plate, int number) {
    double most = 0.0;
    for (const trends::TrackDrift& drift : plate.drift.tracks) {
        if (!drift.track.name || drift.track.name->number != number) {
            continue;
        }
        for (const trends::TrackPoint& point : drift.track.points) {
            const auto sd_in = [&](const ledger::PlateHistory& history) {
                return history.sessions[point.session].modes[point.mode].mode.frequency_sd_hz;
            };
            const double before = sd_in(plate.history), after = sd_in(plate.in_air->history);
            most = std::max(most, std::sqrt(std::max(0.0, after * after - before * before)));
        }
    }
    return most;
}
double set_over_sd_g(const trends::HistoryInAir& in_air) {
    double most = 0.0;
    for (const auto& session : in_air.sessions) {
        most = std::max(most, session && session->mass_sd_g ? *session->mass_sd_g : 0.0);
    }
    return most;
}

} // namespace

std::string air_remark(const ViewContext& context) {
    const bench::PlateView& plate = *context.now.plate;
    const auto unknown =
        std::ranges::count_if(plate.in_air->sessions, [](const auto& session) { return !session; });
    const std::string air = air_words(context.now.air);
    const std::string grams = figure(base::plus_minus(set_over_sd_g(*plate.in_air)), 1);
    const std::optional<int> number = steered_by(plate);
    std::string words =
        number ? say("As if at {}: set over, not measured; by that alone {} ± {} Hz, the mass "
                     "± {} g.",
                     air, modes::mode_text(*number),
                     figure(base::plus_minus(set_over_sd_hz(plate, *number)), 1), grams)
               : say("As if at {}: set over, not measured; by that alone the mass ± {} g.", air,
                     grams);
    if (unknown > 0) {
        words += " " + say_count(unknown, "{} session without its air stays as measured.",
                                 "{} sessions without their air stay as measured.");
    }
    return words;
}

} // namespace platewright::screen
