#include "screen/wood_table.hpp"

#include "base/interval.hpp"
#include "plate/wood.hpp"
#include "screen/fields.hpp"
#include "screen/parts.hpp"
#include "trends/wood_choice.hpp"

#include <algorithm>
#include <array>

namespace platewright::screen {
namespace {
using plot::Box;
using plot::Weight;
using trends::Figure;
using trends::WoodFigures;

struct Column {
    wording::Phrase title;
    const char* unit;
    std::optional<Figure> WoodFigures::*member;
    int decimals;
};
constexpr std::array k_columns{
    Column{"density", "kg/m\u00b3", &WoodFigures::density_kg_m3, 0},
    Column{"E along", "GPa", &WoodFigures::e_l_gpa, 1},
    Column{"E across", "GPa", &WoodFigures::e_r_gpa, 2},
    Column{"sound along", "m/s", &WoodFigures::sound_l_m_s, 0},
    Column{"radiation", "m\u2074/kg s", &WoodFigures::radiation, 1},
    Column{"Q along", "", &WoodFigures::q_along, 0},
    Column{"Q across", "", &WoodFigures::q_across, 0},
};
constexpr double k_name_share = 0.24;

std::string figure_text(const std::optional<Figure>& f, int decimals) {
    return f ? figure(f->value, decimals) : std::string("\u2013");
}
std::string doubt_text(const std::optional<Figure>& f, int decimals) {
    return f ? "\u00b1 " + figure(base::plus_minus(f->sd), decimals) : std::string();
}

/// A place in the flow, as wide as the page.
Box next_row(const Sight& sight, double height) {
    const plot::Point corner = point(ImGui::GetCursorScreenPos());
    return {corner.x, corner.y, corner.x + static_cast<double>(ImGui::GetContentRegionAvail().x),
            corner.y + height * sight.look.scale};
}
void pass_row(const Box& box) {
    ImGui::Dummy({static_cast<float>(box.width()), static_cast<float>(box.height())});
}

/// Two lines in a cell, the second small.
void cell(const Sight& sight, Box box, std::string_view first, std::string_view second,
          double height, Weight weight, plot::Colour ink) {
    ImguiCanvas canvas = sight.canvas();
    const double scale = sight.look.scale;
    box.right -= 6.0 * scale;
    line(canvas, second, take_bottom(box, 0.44 * box.height()),
         {.colour = sight.palette().faint_ink, .height = k_small * scale});
    line(canvas, first, box, {.colour = ink, .height = height * scale, .weight = weight});
}

/// Where a row's cell is: the name, the columns, how far apart. Stacked, the name stands above two
/// rows of four.
Box place_of(const Sight& sight, const Box& row, std::size_t index) {
    if (!sight.stacks) {
        const double share = (1.0 - k_name_share) / static_cast<double>(k_columns.size() + 1);
        Box rest = row;
        const Box name = take_left(rest, k_name_share * row.width());
        take_left(rest, share * row.width() * (static_cast<double>(index) - 1.0));
        return index == 0 ? name : take_left(rest, share * row.width());
    }
    const double height = row.height() / 3.0, width = (row.width() - 10.0 * sight.look.scale) / 4.0;
    if (index == 0) {
        return {row.left, row.top, row.right, row.top + height};
    }
    const std::size_t down = (index - 1) / 4, along = (index - 1) % 4;
    const double left = row.left + 10.0 * sight.look.scale + static_cast<double>(along) * width;
    const double top = row.top + static_cast<double>(down + 1) * height;
    return {left, top, left + width, top + height};
}

std::string species_name(const ledger::WoodRecord& wood) {
    const auto species = plate::find_species(wood.species);
    return species ? std::string(say(species->name)) : std::string();
}

} // namespace

Distances distances_from(const bench::StockView& stock, ledger::Id good) {
    Distances distances;
    const auto found =
        std::ranges::find(stock.woods, good, [](const auto& w) { return w.history.wood.id; });
    if (found == stock.woods.end() || !found->figures) {
        return distances;
    }
    std::vector<WoodFigures> figures;
    std::vector<ledger::Id> ids;
    for (const bench::StockedWood& one : stock.woods) {
        if (one.figures && one.history.wood.id != good) {
            figures.push_back(*one.figures);
            ids.push_back(one.history.wood.id);
        }
    }
    for (const trends::Likeness& likeness : trends::nearest(figures, *found->figures)) {
        distances[ids[likeness.index]] = likeness.distance;
    }
    return distances;
}

void stock_heads(const Sight& sight, bool distances) {
    const Box box = next_row(sight, sight.stacks ? 114.0 : 40.0);
    const plot::Colour ink = sight.palette().faint_ink;
    cell(sight, place_of(sight, box, 0), say("wood"), {}, k_small, Weight::bold, ink);
    for (std::size_t i = 0; i < k_columns.size(); ++i) {
        cell(sight, place_of(sight, box, i + 1), say(k_columns[i].title), k_columns[i].unit,
             k_small, Weight::bold, ink);
    }
    if (distances) {
        cell(sight, place_of(sight, box, k_columns.size() + 1), say("difference"), {}, k_small,
             Weight::bold, ink);
    }
    pass_row(box);
}

bool stock_row(const Sight& sight, const bench::StockedWood& wood, bool chosen,
               const Distances& distances) {
    const auto [pressed, box] = row_ground(sight, static_cast<int>(wood.history.wood.id),
                                           sight.stacks ? 132.0 : 48.0, chosen);
    const plot::Colour ink = sight.palette().ink;
    Box name = place_of(sight, box, 0);
    name.left += 10.0 * sight.look.scale;
    cell(sight, name, wood.history.wood.label, species_name(wood.history.wood), k_body,
         Weight::bold, ink);
    for (std::size_t i = 0; i < k_columns.size(); ++i) {
        const Column& column = k_columns[i];
        const auto value = wood.figures ? (*wood.figures).*column.member : std::nullopt;
        cell(sight, place_of(sight, box, i + 1),
             wood.figures ? figure_text(value, column.decimals) : std::string("\u00b7\u00b7\u00b7"),
             doubt_text(value, column.decimals), k_body, Weight::regular, ink);
    }
    if (const auto found = distances.find(wood.history.wood.id); found != distances.end()) {
        cell(sight, place_of(sight, box, k_columns.size() + 1), figure(found->second, 2), {},
             k_body, Weight::bold, ink);
    }
    return pressed;
}

std::string with_doubt(const std::optional<Figure>& f, int decimals) {
    return f ? figure(f->value, decimals) + " " + doubt_text(f, decimals) : std::string("\u2013");
}

void fact_row(const Sight& sight, std::string_view what, std::string_view value) {
    const Box box = next_row(sight, 18.0);
    Box rest = box;
    ImguiCanvas canvas = sight.canvas();
    const double height = k_body * sight.look.scale;
    line(canvas, what, take_left(rest, 0.55 * box.width()),
         {.colour = sight.palette().faint_ink, .height = height});
    line(canvas, value, rest, {.colour = sight.palette().ink, .height = height});
    pass_row(box);
}

void figures_table(const Sight& sight, const WoodFigures& f) {
    const double height = k_body;
    const auto put = [&](std::string_view what, const std::array<std::string, 3>& words,
                         plot::Colour ink) {
        const Box box = next_row(sight, 19.0);
        Box rest = box;
        ImguiCanvas canvas = sight.canvas();
        const plot::Lettering faint{.colour = sight.palette().faint_ink,
                                    .height = height * sight.look.scale};
        line(canvas, what, take_left(rest, 0.31 * box.width()), faint);
        for (const std::string& word : words) {
            line(canvas, word, take_left(rest, 0.23 * box.width()),
                 {.colour = ink, .height = height * sight.look.scale});
        }
        pass_row(box);
    };
    const plot::Palette& p = sight.palette();
    put(say("(95 %)"),
        {std::string(say("along")), std::string(say("across")), std::string(say("shear"))},
        p.faint_ink);
    put(say("E, G: GPa"),
        {with_doubt(f.e_l_gpa, 1), with_doubt(f.e_r_gpa, 2), with_doubt(f.g_lr_gpa, 2)}, p.ink);
    put(say("sound, m/s"), {with_doubt(f.sound_l_m_s, 0), with_doubt(f.sound_r_m_s, 0), {}}, p.ink);
    put("Q", {with_doubt(f.q_along, 0), with_doubt(f.q_across, 0), with_doubt(f.q_twist, 0)},
        p.ink);
}

} // namespace platewright::screen
