#pragma once
#include "plot/chart.hpp"

namespace platewright::plot {

enum class KeyKind { line, area, mark };

/// One entry of the key: a swatch at `at` (its left, vertically centred), then words.
struct KeyPlace {
    Point at = {};
    KeyKind kind = KeyKind::line;
    Pen pen = {};
    Shape shape = Shape::disc;
    std::string words = {};
};

/// The head of a signpost; `at` is the left of its words, vertically centred.
struct HeadPlace {
    std::size_t index = 0; // in Chart::signposts
    Point at = {};
};

/// Words beside the end of a curve, moved apart where curves end close together.
struct EndPlace {
    Point at = {};
    std::string words = {};
    Colour colour = {};
};

/// Where everything of a chart stands. Made by `lay_out`, used by `draw` alone.
struct Layout {
    Box area;
    Box inside;
    Point up_title = {};
    std::vector<Tick> across_ticks = {};
    std::vector<Tick> up_ticks = {};
    std::vector<KeyPlace> key = {};
    std::vector<HeadPlace> heads = {};
    std::vector<EndPlace> ends = {};
    Point block = {};            // the left top of the end block
    double block_row = 0.0;      // and how high each of its lines stands
    std::size_t block_lines = 0; // that have room; the last of them counts the rest
    bool bears_across = true;
};

/// How a strip stands among the others.
struct InStrips {
    double left = 0.0, right = 0.0;   // at least so far in, that all have their frames in one line
    bool first = false, last = false; // the last bears the ticks across
};

/// In: an area at least 12 em wide and 8 em high; smaller ones are laid out as if they were.
Layout lay_out(const Chart& chart, const Box& area, const Canvas& canvas, double em,
               const InStrips* in_strips = nullptr);

/// How the chart's strips divide the area, with their common edges; their `across` and signposts
/// are the chart's.
struct StripsLayout {
    std::vector<Chart> charts = {};
    std::vector<Box> areas = {};
    std::vector<InStrips> stand = {};
};
StripsLayout lay_out_strips(const Chart& chart, const Box& area, const Canvas& canvas, double em);

} // namespace platewright::plot
