#include "screen/wood/wood_table.hpp"

#include "base/interval.hpp"
#include "plate/wood/wood.hpp"
#include "screen/draw/parts.hpp"
#include "screen/fields/fields.hpp"
#include "trends/wood/wood_choice.hpp"

#include <algorithm>
#include <array>

namespace platewright::screen {
namespace {
using plot::Box;
using plot::Weight;
using trends::Figure;
using trends::WoodFigures;

struct WoodColumn {
    wording::Phrase title;
    const char* unit;
    std::optional<Figure> WoodFigures::*member;
    int decimals;
};
constexpr std::array k_wood_columns{
    WoodColumn{"density", "kg/m\u00b3", &WoodFigures::density_kg_m3, 0},
    WoodColumn{"E along", "GPa", &WoodFigures::e_l_gpa, 1},
    WoodColumn{"E across", "GPa", &WoodFigures::e_r_gpa, 2},
    WoodColumn{"sound along", "m/s", &WoodFigures::sound_l_m_s, 0},
    WoodColumn{"radiation", "m\u2074/kg s", &WoodFigures::radiation, 1},
    WoodColumn{"Q along", "", &WoodFigures::q_along, 0},
    WoodColumn{"Q across", "", &WoodFigures::q_across, 0},
};

std::string figure_text(const std::optional<Figure>& f, int decimals) {
    return f ? figure(f->value, decimals) : std::string("\u2013");
}
std::string doubt_text(const std::optional<Figure>& f, int decimals) {
    return f ? "\u00b1 " + figure(base::plus_minus(f->sd), decimals) : std::string();
}

/// A place in the flow, as wide as the page.
Box next_row(const ViewContext& context, double height) {
    const plot::Point corner = point(ImGui::GetCursorScreenPos());
    return {corner.x, corner.y, corner.x + static_cast<double>(ImGui::GetContentRegionAvail().x),
            corner.y + height * context.look.scale};
}
void pass_row(const Box& box) {
    ImGui::Dummy({static_cast<float>(box.width()), static_cast<float>(box.height())});
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

std::optional<ledger::Id> stock_table(const ViewContext& context, ledger::Id chosen,
                                      const Distances& distances, Sorting& sorting) {
    std::vector<TableHead> heads{{std::string(say("wood"))}, {std::string(say("handbook wood"))}};
    for (const WoodColumn& column : k_wood_columns) {
        heads.push_back({std::string(say(column.title)), column.unit});
    }
    if (!distances.empty()) {
        heads.push_back({std::string(say("difference"))});
    }
    if (sorting.by && *sorting.by >= heads.size()) { // the differences have gone
        sorting = {};
    }
    std::vector<TableRow> rows;
    for (const bench::StockedWood& wood : context.now.stock->woods) {
        const ledger::Id id = wood.history.wood.id;
        TableRow row{
            id, id == chosen, {{wood.history.wood.label}, {species_name(wood.history.wood)}}};
        for (const WoodColumn& column : k_wood_columns) {
            const auto f = wood.figures ? (*wood.figures).*column.member : std::nullopt;
            row.cells.push_back(
                {wood.figures ? figure_text(f, column.decimals) : std::string("\u00b7\u00b7\u00b7"),
                 f ? std::optional(f->value) : std::nullopt, doubt_text(f, column.decimals)});
        }
        if (!distances.empty()) {
            const auto found = distances.find(id);
            row.cells.push_back(
                found == distances.end() ? Cell{} : Cell{figure(found->second, 2), found->second});
        }
        rows.push_back(std::move(row));
    }
    return table(context, "woods", heads, rows, sorting);
}

std::string with_doubt(const std::optional<Figure>& f, int decimals) {
    return f ? figure(f->value, decimals) + " " + doubt_text(f, decimals) : std::string("\u2013");
}

void fact_row(const ViewContext& context, std::string_view what, std::string_view value) {
    const Box box = next_row(context, 18.0);
    Box rest = box;
    ImguiCanvas canvas = context.canvas();
    const double height = k_body * context.look.scale;
    line(canvas, what, take_left(rest, 0.55 * box.width()),
         {.colour = context.palette().faint_ink, .height = height});
    line(canvas, value, rest, {.colour = context.palette().ink, .height = height});
    pass_row(box);
}

void figures_table(const ViewContext& context, const WoodFigures& f) {
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
