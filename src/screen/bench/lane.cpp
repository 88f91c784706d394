#include "screen/bench/lane.hpp"

#include "base/interval.hpp"
#include "base/text.hpp"
#include "screen/draw/parts.hpp"
#include "trends/drift/repeatability.hpp"
#include "wording/language.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

namespace platewright::screen {
namespace {

constexpr std::size_t k_lanes = 3;
constexpr double k_reach = 0.06, k_widest_reach = 0.5;

/// As the decision has it: over in one air where all is.
modes::Mode mode_now(const bench::PlateView& plate, const bench::ModeView& figure,
                     std::optional<std::size_t> open) {
    if (plate.in_air && open) {
        const auto& session = plate.trend_history().sessions[*open];
        if (const auto* found = trends::find_mode(session.modes, figure.number)) {
            return found->mode;
        }
    }
    return figure.now->mode;
}

std::optional<double> hz_before(const bench::PlateView& plate, int number,
                                std::optional<std::size_t> open) {
    std::optional<double> hz;
    if (const trends::TrackDrift* drift = trends::find_track(plate.drift, number)) {
        for (const trends::TrackPoint& point : drift->track.points) {
            if (!open || point.session < *open) {
                hz = point.value.frequency_hz;
            }
        }
    }
    return hz;
}

/// What the lane stands about, and how far from it the mode is now.
void set_against(Lane& lane, const bench::PlateView& plate, const trends::Change* since_last) {
    const trends::Goal* goal = trends::find_goal(plate.goals, lane.number);
    const trends::ComparedMode* compared =
        plate.comparison ? trends::find_mode(*plate.comparison, lane.number) : nullptr;
    if (goal != nullptr) {
        lane.against = goal->of_reference ? Against::reference : Against::goal;
        lane.centre_hz = goal->hz;
    } else if (compared != nullptr && compared->reference) {
        lane.against = Against::reference;
        lane.centre_hz = compared->reference->frequency_hz;
    } else if (lane.last_hz) {
        lane.against = Against::last_session;
        lane.centre_hz = lane.last_hz;
    }
    if (!lane.now_hz || !lane.centre_hz) {
        return;
    }
    lane.away_hz = *lane.now_hz - *lane.centre_hz;
    lane.away_doubt_hz = lane.doubt_hz; // a goal is a number without a doubt of its own
    if (lane.against == Against::last_session && since_last != nullptr) {
        lane.away_hz = since_last->hz;
        lane.away_doubt_hz = base::plus_minus(since_last->hz_sd);
    } else if (goal == nullptr && compared != nullptr && compared->hz && compared->hz_sd) {
        lane.away_hz = compared->hz;
        lane.away_doubt_hz = base::plus_minus(*compared->hz_sd);
    }
}

/// Whether the plate had the mass that the forecast counts from when the mode was tapped last: else
/// an arrow from there would tell another amount than a gram.
bool is_counted_from_here(const trends::TrackDrift& drift, const bench::PlateView& plate) {
    const std::size_t tapped = drift.track.points.back().session;
    return plate.trend_history().sessions.at(tapped).session.mass_g == drift.forecast->mass_g;
}

} // namespace

std::vector<Lane> lanes_of(const bench::PlateView& plate) {
    std::vector<Lane> lanes;
    const auto open = index_of(plate.trend_history().sessions, plate.session);
    for (const bench::ModeView& figure : plate.figures) {
        if (lanes.size() == k_lanes) {
            break;
        }
        Lane lane{.number = figure.number, .figure = &figure};
        if (figure.now) {
            const modes::Mode mode = mode_now(plate, figure, open);
            lane.now_hz = mode.frequency_hz;
            lane.doubt_hz = base::plus_minus(trends::session_sd_hz(mode));
        }
        lane.last_hz = hz_before(plate, figure.number, open);
        const trends::TrackDrift* drift = trends::find_track(plate.drift, figure.number);
        if (drift != nullptr && drift->forecast && is_counted_from_here(*drift, plate)) {
            lane.next = drift->forecast->step_on;
        }
        set_against(lane, plate,
                    drift != nullptr && open ? trends::step_into(*drift, *open) : nullptr);
        lanes.push_back(lane);
    }
    return lanes;
}

double reach_of(std::span<const Lane> lanes) {
    double farthest = 0.0;
    for (const Lane& lane : lanes) {
        const auto hz = lane.now_hz ? lane.now_hz : lane.last_hz;
        if (hz && lane.centre_hz) {
            farthest = std::max(farthest, std::abs(*hz / *lane.centre_hz - 1.0));
        }
    }
    double reach = k_reach;
    while (reach < farthest && reach < k_widest_reach) {
        reach *= 2.0;
    }
    return reach;
}

// Holding and striking, from Jansson's and Hutchins' teaching (trade.md; common practice).
std::string_view how_to_find(int number) {
    switch (number) {
    case 1:
        return say("Hold at the middle, strike the edge of a bout at its widest.");
    case 2:
        return say("Hold a nodal line a quarter in from an end, strike the middle of an end.");
    case 5:
        return say("Hold on the ring near the upper bout's edge, strike the centre.");
    case modes::k_a0:
    case modes::k_b1_plus:
    case modes::k_b1_minus:
        return say("Damp the strings, strike the bridge sideways at its bass corner.");
    default:
        return say("Strike elsewhere on the plate.");
    }
}

std::string certainty(const modes::ModeName& name) {
    if (name.by_maker) {
        return say("named by you");
    }
    return name.confidence >= 0.95 ? say("name sure")
                                   : say("name {} % sure", figure(100.0 * name.confidence, 0));
}

std::string kin_words(const bench::PlateView& plate) {
    std::string words;
    const auto open = index_of(plate.history.sessions, plate.session);
    const auto& ratios = plate.drift.ratio_5_to_2;
    if (open && *open < ratios.size() && ratios[*open]) {
        words = say("mode 5 to mode 2: {}", figure(*ratios[*open], 3));
    }
    if (!plate.partner) {
        return words;
    }
    std::string hz;
    for (const auto& [number, value] :
         {std::pair{2, plate.partner->mode_2_hz}, {5, plate.partner->mode_5_hz}}) {
        if (value) {
            hz += (hz.empty() ? "" : ", ") + modes::short_mode_text(number) + " " +
                  figure(*value, 1) + " Hz";
        }
    }
    return words + (words.empty() ? "" : "; ") +
           say("the {} of the same instrument: {}",
               std::string(modes::to_text(plate.partner->part)), hz);
}

std::string_view against_words(Against against) {
    switch (against) {
    case Against::goal:
        return say("to the goal");
    case Against::reference:
        return say("to the reference");
    case Against::last_session:
        return say("since last session");
    case Against::nothing:
        break;
    }
    return say("nothing to set it against yet");
}

} // namespace platewright::screen
