#include "screen/carve/end_grain.hpp"

#include "base/angle.hpp"
#include "screen/fields/fields.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace platewright::screen {
namespace {

constexpr double k_height = 56.0, k_ring_apart = 9.0, k_most_width = 320.0; // px at 1280 x 800

void half(const ViewContext& context, const plot::Box& box, const std::optional<double>& deg) {
    const plot::Palette& p = context.palette();
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    canvas.box(box, p.ground, 0.0);
    const std::array rim{plot::Point{box.left, box.top}, plot::Point{box.right, box.top},
                         plot::Point{box.right, box.bottom}, plot::Point{box.left, box.bottom},
                         plot::Point{box.left, box.top}};
    canvas.polyline(rim, {p.ink, 1.5 * scale});
    const plot::Point middle{0.5 * (box.left + box.right), 0.5 * (box.top + box.bottom)};
    if (!deg || std::abs(*deg) > 90.0) {
        canvas.text(middle, "?",
                    {p.faint_ink, k_lead * scale, plot::Across::centre, plot::Upright::middle});
        return;
    }
    const double rad = base::in_rad(*deg);
    const plot::Point along{std::sin(rad), -std::cos(rad)}, across{std::cos(rad), std::sin(rad)};
    const double reach = std::hypot(box.width(), box.height());
    canvas.keep_inside(box);
    for (double off = 0.0; off <= 0.5 * reach; off += k_ring_apart * scale)
        for (const double side : {-off, off}) {
            const plot::Point at{middle.x + side * across.x, middle.y + side * across.y};
            const std::array ring{plot::Point{at.x - reach * along.x, at.y - reach * along.y},
                                  plot::Point{at.x + reach * along.x, at.y + reach * along.y}};
            canvas.polyline(ring, {p.accent, 1.2 * scale});
        }
    canvas.keep_all();
}

} // namespace

void end_grain(const ViewContext& context, std::optional<double> left_deg,
               std::optional<double> right_deg) {
    const double scale = context.look.scale;
    label_line(context, say("End grain, from the lower end, outside up"));
    const plot::Point corner = point(ImGui::GetCursorScreenPos());
    const double width =
        std::min(static_cast<double>(ImGui::GetContentRegionAvail().x), k_most_width * scale);
    ImGui::Dummy({static_cast<float>(width), context.look.px(k_height)});
    const double joint = corner.x + 0.5 * width, bottom = corner.y + k_height * scale;
    // of one half alone: the other's are taken to be alike
    half(context, {corner.x, corner.y, joint, bottom}, left_deg ? left_deg : right_deg);
    half(context, {joint, corner.y, corner.x + width, bottom}, right_deg ? right_deg : left_deg);
}

} // namespace platewright::screen
