#pragma once
#include "screen/view_context.hpp"

#include <string_view>

namespace platewright::screen {

// What fields of all kinds are made of.

/// The label above a field.
void label_line(const ViewContext& context, std::string_view words);

/// The item just drawn is noted for the tests, as far as it is to be seen.
void note_item(const ViewContext& context, std::string_view words);

/// In pixels; `width` in px at 1280 × 800, 0: all that the page has.
float item_width(const ViewContext& context, double width);

} // namespace platewright::screen
