#include "plate/shape/drawn_lines.hpp"
#include "plate/shape/outline.hpp"
#include "wording/say.hpp"

#include <string>

namespace platewright::plate {
namespace {

using wording::say;

base::Fault bad_path(std::string_view why) {
    return {say("The outline's SVG path can't be read: {}.", why)};
}

} // namespace

base::Result<Outline> outline_from_csv(std::string_view text) {
    PointTable table = points_of_csv(text);
    if (!table.between.empty())
        return base::Fault{say("Line {} of the outline is not two numbers (x and y in mm): \"{}\".",
                               table.between.front().number, table.between.front().text)};
    return outline_from_points(table.pieces.empty() ? Loop{} : std::move(table.pieces.front()));
}

base::Result<Outline> outline_from_svg_path(std::string_view text) {
    auto pieces = pieces_of_svg_path(text);
    if (!pieces)
        return bad_path(pieces.fault().what);
    if (pieces->size() > 1)
        return bad_path(say("it has more than one piece"));
    return outline_from_points(pieces->empty() ? Loop{} : std::move(pieces->front()));
}

base::Result<Outline> outline_from_svg(std::string_view drawing) {
    const auto paths = paths_of_svg(drawing);
    if (paths.empty())
        return base::Fault{
            say("The drawing holds no path: draw the outline as one closed path, in mm.")};
    return outline_from_svg_path(paths.front());
}

} // namespace platewright::plate
