#pragma once
#include "plot/plate/plate_picture.hpp"
#include "screen/view_context.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace platewright::screen {

// What the sheets of the carving view share.

/// Where the pointer is on the plate that is drawn.
struct PlateSpot {
    std::optional<plate::Point> at; // inside the outline
    bool clicked = false;
};

/// Draws the plate into its ground and tells where the pointer is on it.
PlateSpot draw_plate_sheet(const ViewContext& context, const plot::PlatePicture& picture,
                           const plot::Box& box);

/// The form said, or the usual one of the instrument's kind.
ledger::FormRecord form_shown(const ledger::PlateHistory& history);

/// Its bare outline with the pins of the open session.
plot::PlatePicture outline_shown(const ViewContext& context);
void add_pins(plot::PlatePicture& picture, const ViewContext& context);

/// How many proposals of what to measure next are told and drawn.
inline constexpr std::size_t k_most_next = 3;
/// What would make a forecast surer, best first; `words` a sentence each.
void before_it(const ViewContext& context, const std::vector<std::string>& words);

/// One line of a page: what, and its value beside it.
void fact(const ViewContext& context, std::string_view what, std::string_view value);

/// A figure with its interval of 95 %.
std::string with_range(double value, double sd, int decimals);

/// The number typed, its unit after it or not, within a range; nothing where it is none.
std::optional<double> number_within(const std::string& typed, double low, double high,
                                    std::string_view unit);

} // namespace platewright::screen
