#pragma once
#include "screen/view_context.hpp"
#include "trends/wood/wood_figures.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace platewright::screen {

/// "12.10 ± 0.45", with 95 %; a dash where nothing is known.
std::string with_its_doubt(const std::optional<trends::Figure>& f, int decimals);

/// A low row of the flow: what, and its value.
void draw_fact(const ViewContext& context, std::string_view what, std::string_view value);

/// The figures of one wood by direction of the grain, in the flow.
void draw_wood_figures(const ViewContext& context, const trends::WoodFigures& f);

} // namespace platewright::screen
