#include "screen/wood/stock_table.hpp"

#include "base/interval.hpp"
#include "plate/wood/wood.hpp"
#include "screen/draw/parts.hpp"
#include "trends/wood/wood_choice.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace platewright::screen {
namespace {
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

std::string species_name(const ledger::WoodRecord& wood) {
    const auto species = plate::find_species(wood.species);
    return species ? say(species->name) : std::string();
}

} // namespace

const bench::StockedWood* find_stocked(const bench::StockView& stock, ledger::Id wood) {
    const auto found =
        std::ranges::find(stock.woods, wood, [](const auto& w) { return w.history.wood.id; });
    return found == stock.woods.end() ? nullptr : &*found;
}

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

std::optional<ledger::Id> draw_stock(const ViewContext& context, ledger::Id chosen,
                                     const Distances& distances, Sorting& sorting) {
    std::vector<TableHead> heads{{say("wood")}, {say("handbook wood")}};
    for (const WoodColumn& column : k_wood_columns) {
        heads.push_back({say(column.title), column.unit});
    }
    if (!distances.empty()) {
        heads.push_back({say("difference")});
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

} // namespace platewright::screen
