#include "screen/air_remark.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::screen {
namespace {

/// The most that setting over adds to a mode's deviation in any session.
double set_over_sd_hz(const bench::PlateView& plate) {
    double most = 0.0;
    for (std::size_t i = 0; i < plate.history.sessions.size(); ++i) {
        const auto& measured = plate.history.sessions[i].modes;
        const auto& over = plate.in_air->history.sessions[i].modes;
        for (std::size_t k = 0; k < measured.size(); ++k) {
            const double before = measured[k].mode.frequency_sd_hz;
            const double after = over[k].mode.frequency_sd_hz;
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

std::string air_remark(const Sight& sight) {
    const bench::PlateView& plate = *sight.now.plate;
    const auto unknown =
        std::ranges::count_if(plate.in_air->sessions, [](const auto& session) { return !session; });
    std::string words =
        say("In one air, {}: set over, not measured; by that alone ± {} Hz and ± {} g.",
            air_words(sight.now.air), figure(2.0 * set_over_sd_hz(plate), 1),
            figure(2.0 * set_over_sd_g(*plate.in_air), 1));
    if (unknown > 0) {
        words += " " + say_count(unknown, "{} session without its air stays as measured.",
                                 "{} sessions without their air stay as measured.");
    }
    return words;
}

} // namespace platewright::screen
