#pragma once
#include "screen/view_context.hpp"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace platewright::screen {

/// What a mode is set against: its goal, else the reference, else the session before, else nothing.
enum class Against { goal, reference, last_session, nothing };

/// One mode as the bench shows it. Frequencies are in the air of what is compared; half intervals
/// of 95 %, hold and hanging included.
struct Lane {
    int number = 0;
    std::optional<double> now_hz, doubt_hz;
    std::optional<double> last_hz; ///< of the newest earlier session that has it
    Against against = Against::nothing;
    std::optional<double> centre_hz;                   ///< what it is set against
    std::optional<double> away_hz, away_doubt_hz = {}; ///< now, from that
    std::optional<trends::Interval> next = {}; ///< after a gram less than now, where now is weighed
    const bench::ModeView* figure = nullptr;   ///< of the same view
};

/// The first three of the plate's figures. Pure; lives as long as the view.
std::vector<Lane> lanes_of(const bench::PlateView& plate);

/// Half of what the lanes' common scale shows, as a share of what they are set against: 6 %, or
/// twice as much as often as a mode needs it.
double reach_of(std::span<const Lane> lanes);

/// "mode 5 to mode 2: 2.082; top: modes 2: 152.3, 5: 340.2 Hz": what the plate is to be like.
std::string kin_words(const bench::PlateView& plate);

std::string_view against_words(Against against);
/// How a plate is held and struck for a mode.
std::string_view how_to_find(int number);
/// "sure", "87 % sure", "named by you".
std::string certainty(const modes::ModeName& name);

} // namespace platewright::screen
