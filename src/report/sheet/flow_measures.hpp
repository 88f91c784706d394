#pragma once
#include "plot/palette.hpp"

namespace platewright::report {

// Measures of a page, in points, that the parts of Flow share.
inline constexpr double k_margin = 42.5;     // 15 mm: every printer's, and room for a punch
inline constexpr double k_text = 8.4;        // points; the charts' letters are near it
inline constexpr double k_leading = 11.0;    // from line to line
inline constexpr double k_gap = 7.0;         // between parts
inline constexpr double k_column_gap = 7.0;  // between columns of a table
inline constexpr double k_label_share = 0.3; // of a column of facts

inline const plot::Palette& ink() { return plot::paper_palette(); }

} // namespace platewright::report
