#include "plate/shape/hole_text.hpp"

#include "base/text.hpp"
#include "plate/shape/drawn_lines.hpp"
#include "plate/shape/fittings.hpp"
#include "plate/shape/outline.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <optional>

namespace platewright::plate {
namespace {

using wording::figure;
using wording::say;

// A sixteenth violin's hole has 150 mm2, a violin's in inches under 1.
constexpr double k_least_mm2 = 20.0;

bool goes_round(const Loop& line, const Loop& other) {
    return std::ranges::all_of(other, [&](Point p) { return contains(line, p); });
}

/// Takes the line that goes round all others out of them, if there is one.
std::optional<Loop> take_outline(std::vector<Loop>& lines) {
    if (lines.size() < 2)
        return std::nullopt;
    const auto largest = std::ranges::max_element(
        lines, {}, [](const Loop& line) { return std::abs(signed_area_mm2(line)); });
    for (auto line = lines.begin(); line != lines.end(); ++line)
        if (line != largest && !goes_round(*largest, *line))
            return std::nullopt;
    Loop outline = std::move(*largest);
    lines.erase(largest);
    return outline;
}

/// Without a repeated end, thinned, counter-clockwise.
base::Result<Loop> checked(Loop points) {
    constexpr double k_same_mm = 1e-6;
    if (points.size() > 1 && std::hypot(points.front().x_mm - points.back().x_mm,
                                        points.front().y_mm - points.back().y_mm) < k_same_mm)
        points.pop_back();
    if (points.size() < 8)
        return base::Fault{
            say("An f-hole's line needs at least 8 points; there are {}.", points.size())};
    const std::vector<std::size_t> places = places_enough(points);
    points = points_at(points, places);
    if (const auto crossing = find_crossing(points)) {
        const auto first = static_cast<std::size_t>(crossing.first),
                   second = static_cast<std::size_t>(crossing.second);
        return base::Fault{say(
            "The f-hole's line crosses itself: the side from point {} ({}, {}) cuts the side "
            "from point {} ({}, {}).",
            places[first] + 1, figure(points[first].x_mm, 1), figure(points[first].y_mm, 1),
            places[second] + 1, figure(points[second].x_mm, 1), figure(points[second].y_mm, 1))};
    }
    if (!(std::abs(signed_area_mm2(points)) >= k_least_mm2))
        return base::Fault{say("The f-hole's line encloses next to nothing: is it in mm?")};
    if (signed_area_mm2(points) < 0.0)
        std::ranges::reverse(points);
    return points;
}

double middle_x_mm(const Loop& loop) {
    double sum = 0.0;
    for (const Point p : loop)
        sum += p.x_mm;
    return sum / static_cast<double>(loop.size());
}

base::Fault unread(std::string_view why) {
    return {say("The f-hole's SVG path can't be read: {}.", why)};
}

} // namespace

base::Result<std::vector<Loop>> holes_from_lines(std::vector<Loop> lines) {
    if (const auto rim = take_outline(lines)) {
        const auto outline = outline_from_points(*rim);
        if (!outline)
            return outline.fault();
        for (Loop& line : lines)
            for (Point& p : line)
                p = {p.x_mm + outline->moved.x_mm, p.y_mm + outline->moved.y_mm};
    }
    if (lines.empty() || lines.size() > 2)
        return base::Fault{
            say("F-holes need one closed line, or a right and a left one; there are {}.",
                lines.size())};
    std::vector<Loop> holes;
    for (Loop& line : lines) {
        auto hole = checked(std::move(line));
        if (!hole)
            return hole.fault();
        holes.push_back(*std::move(hole));
    }
    if (holes.size() == 1 && middle_x_mm(holes.front()) < 0.0)
        return std::vector<Loop>{f_hole_loops(std::move(holes)).back()};
    std::ranges::sort(holes, std::ranges::greater{}, middle_x_mm);
    if (holes.size() == 2 && !(middle_x_mm(holes.front()) > 0.0 && middle_x_mm(holes.back()) < 0.0))
        return base::Fault{
            say("Both f-holes lie on one side of the middle line: draw one right and one left of "
                "it, or one alone.")};
    return holes;
}

base::Result<std::vector<Loop>> holes_from_csv(std::string_view text) {
    PointTable table = points_of_csv(text);
    for (const NumberedLine& line : table.between) {
        const auto fields = fields_of(line.text);
        if (std::ranges::any_of(fields, [](std::string_view field) {
                return base::parse_measure(field, "mm").has_value();
            }))
            return base::Fault{
                say("Line {} of the f-hole is not two numbers (x and y in mm): \"{}\".",
                    line.number, as_quoted(line.text))};
    }
    return holes_from_lines(std::move(table.pieces));
}

base::Result<std::vector<Loop>> holes_from_svg_path(std::string_view text) {
    auto pieces = pieces_of_svg_path(text);
    if (!pieces)
        return unread(pieces.fault().what);
    return holes_from_lines(*std::move(pieces));
}

base::Result<std::vector<Loop>> holes_from_svg(std::string_view drawing) {
    std::vector<Loop> lines;
    for (const std::string_view path : paths_of_svg(drawing)) {
        auto pieces = pieces_of_svg_path(path);
        if (!pieces)
            return unread(pieces.fault().what);
        std::ranges::move(*pieces, std::back_inserter(lines));
    }
    return holes_from_lines(std::move(lines));
}

} // namespace platewright::plate
