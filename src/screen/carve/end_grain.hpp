#pragma once
#include "screen/view_context.hpp"

#include <optional>

namespace platewright::screen {

/// The end grain as a maker sees it from the lower end with the outside up: two halves with their
/// rings, degrees off upright, above 0 leaning to the right. What is not known is drawn as a
/// question mark. In the flow of a page.
void end_grain(const ViewContext& context, std::optional<double> left_deg,
               std::optional<double> right_deg);

} // namespace platewright::screen
