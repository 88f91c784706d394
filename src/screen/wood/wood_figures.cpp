#include "screen/wood/wood_figures.hpp"

#include "screen/draw/parts.hpp"
#include "screen/fields/fields.hpp"

#include <array>

namespace platewright::screen {
namespace {
using plot::Box;

/// A place in the flow, as wide as the page.
Box next_row(const ViewContext& context, double height) {
    const plot::Point corner = point(ImGui::GetCursorScreenPos());
    return {corner.x, corner.y, corner.x + static_cast<double>(ImGui::GetContentRegionAvail().x),
            corner.y + height * context.look.scale};
}
void pass_row(const Box& box) {
    ImGui::Dummy({static_cast<float>(box.width()), static_cast<float>(box.height())});
}

} // namespace

std::string with_its_doubt(const std::optional<trends::Figure>& f, int decimals) {
    return f ? wording::with_range(f->value, f->sd, decimals) : std::string("\u2013");
}

void draw_fact(const ViewContext& context, std::string_view what, std::string_view value) {
    const Box box = next_row(context, 18.0);
    Box rest = box;
    ImguiCanvas canvas = context.canvas();
    const double height = k_body * context.look.scale;
    line(canvas, what, take_left(rest, 0.55 * box.width()),
         {.colour = context.palette().faint_ink, .height = height});
    line(canvas, value, rest, {.colour = context.palette().ink, .height = height});
    pass_row(box);
}

void draw_wood_figures(const ViewContext& context, const trends::WoodFigures& f) {
    const double height = k_body;
    const auto put = [&](std::string_view what, const std::array<std::string, 3>& words,
                         plot::Colour ink) {
        const Box box = next_row(context, 19.0);
        Box rest = box;
        ImguiCanvas canvas = context.canvas();
        const plot::Lettering faint{.colour = context.palette().faint_ink,
                                    .height = height * context.look.scale};
        line(canvas, what, take_left(rest, 0.31 * box.width()), faint);
        for (const std::string& word : words) {
            line(canvas, word, take_left(rest, 0.23 * box.width()),
                 {.colour = ink, .height = height * context.look.scale});
        }
        pass_row(box);
    };
    const plot::Palette& p = context.palette();
    put(say("(95 %)"), {say("along"), say("across"), say("shear")}, p.faint_ink);
    put(say("E, G: GPa"),
        {with_its_doubt(f.e_l_gpa, 1), with_its_doubt(f.e_r_gpa, 2), with_its_doubt(f.g_lr_gpa, 2)},
        p.ink);
    put(say("sound, m/s"), {with_its_doubt(f.sound_l_m_s, 0), with_its_doubt(f.sound_r_m_s, 0), {}},
        p.ink);
    put("Q",
        {with_its_doubt(f.q_along, 0), with_its_doubt(f.q_across, 0), with_its_doubt(f.q_twist, 0)},
        p.ink);
}

} // namespace platewright::screen
