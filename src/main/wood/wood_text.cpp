#include "main/wood/wood_text.hpp"

#include "base/text.hpp"
#include "ledger/record.hpp"
#include "main/console.hpp"

#include <fmt/format.h>

namespace platewright::cli {
namespace {

using trends::Figure;

Json figure_json(const std::optional<Figure>& figure) {
    return figure ? Json{{"value", figure->value}, {"sd", figure->sd}} : Json(nullptr);
}

Json figures_json(const trends::WoodFigures& f) {
    Json told{{"moisture_pct", f.moisture_pct}};
    for (const trends::WoodConstant& one : trends::k_wood_constants)
        told[std::string(one.word)] = figure_json(f.*one.of);
    return told;
}

Json wood_test_json(const ledger::WoodTest& test) {
    Json told = test.record;
    told["moisture_pct"] = trends::moisture_of(test.record);
    told["recordings"] = test.taps.size();
    told["modes"] = test.modes;
    return told;
}

std::string figure_cell(const std::optional<Figure>& figure, int decimals) {
    return figure ? base::fixed(figure->value, decimals) : "–";
}
std::string with_sd(const std::optional<Figure>& figure, int decimals) {
    return figure ? wording::with_range(figure->value, figure->sd, decimals) : "–";
}

} // namespace

Json wood_json(const ReadWood& wood) {
    Json told = wood.history.wood;
    told.update({{"plates", wood.history.plates},
                 {"tests", array_of(wood.history.tests, wood_test_json)},
                 {"figures", figures_json(wood.figures)},
                 {"remarks", wood.figures.remarks}});
    return told;
}

Json to_json(const trends::Likeness& likeness, const ReadWood& wood) {
    const auto figure_json = [](const trends::ComparedFigure& f) {
        return Json{{"what", f.what}, {"ratio", f.ratio}, {"deviations", f.deviations}};
    };
    return {{"id", wood.history.wood.id},
            {"label", wood.history.wood.label},
            {"distance", likeness.distance},
            {"figures", array_of(likeness.figures, figure_json)}};
}

Json to_json(const trends::ThicknessChoice& c) {
    Json told = Json::object();
    for (const trends::ChosenThickness& one : trends::k_chosen_thicknesses)
        told[std::string(one.word)] = figure_json(c.*one.mm);
    told["mass_share_when_stiff"] = c.mass_share_when_stiff;
    return told;
}

std::string stock_table(std::span<const ReadWood> stock) {
    Table table({"wood", "species", "kg/m³", "E along", "across", "G, GPa", "m/s along", "c/ρ",
                 "Q along", "across", "plates"});
    for (const ReadWood& wood : stock) {
        const trends::WoodFigures& f = wood.figures;
        const auto species = plate::find_species(wood.history.wood.species);
        table.row(
            {wood.history.wood.label, species ? std::string(wording::say(species->name)) : "–",
             figure_cell(f.density_kg_m3, 0), figure_cell(f.e_l_gpa, 1), figure_cell(f.e_r_gpa, 2),
             figure_cell(f.g_lr_gpa, 2), figure_cell(f.sound_l_m_s, 0), figure_cell(f.radiation, 1),
             figure_cell(f.q_along, 0), figure_cell(f.q_across, 0),
             std::to_string(wood.history.plates.size())});
    }
    return table.text();
}

std::string wood_page(const ReadWood& wood) {
    const ledger::WoodRecord& w = wood.history.wood;
    const trends::WoodFigures& f = wood.figures;
    std::string page = w.label + (w.origin.empty() ? "" : ", " + w.origin) + "\n";
    if (!w.notes.empty())
        page += "  " + w.notes + "\n";
    for (const ledger::WoodTest& test : wood.history.tests)
        page += "  " + trends::line_of(test) + "\n";
    Table table({"figure (95 %)", "along the grain", "across", "shear"});
    table.row(
        {"stiffness, GPa", with_sd(f.e_l_gpa, 2), with_sd(f.e_r_gpa, 2), with_sd(f.g_lr_gpa, 2)});
    table.row({"speed of sound, m/s", with_sd(f.sound_l_m_s, 0), with_sd(f.sound_r_m_s, 0), ""});
    table.row({"Q", with_sd(f.q_along, 0), with_sd(f.q_across, 0), with_sd(f.q_twist, 0)});
    page += table.text();
    page += fmt::format("  density {} kg/m³, radiation ratio {} m⁴/(kg s){}\n",
                        with_sd(f.density_kg_m3, 0), with_sd(f.radiation, 1),
                        f.moisture_pct
                            ? fmt::format(", all at {} % moisture", base::fixed(*f.moisture_pct, 1))
                            : "");
    for (const std::string& remark : f.remarks)
        page += "  " + remark + "\n";
    return page;
}

std::string likeness_table(std::span<const trends::Likeness> list,
                           std::span<const ReadWood> stock) {
    Table table({"wood", "distance", "figures in % of the other's"});
    for (const trends::Likeness& one : list) {
        std::string figures;
        for (const trends::ComparedFigure& f : one.figures)
            figures += fmt::format("{}{} {}", figures.empty() ? "" : ", ", f.what,
                                   base::fixed(100.0 * f.ratio, 0));
        table.row({stock[one.index].history.wood.label, base::fixed(one.distance, 2), figures});
    }
    return table.text();
}

std::string thickness_table(const trends::ThicknessChoice& c) {
    Table table({"to be like it", "mm (95 %)"});
    for (const trends::ChosenThickness& one : trends::k_chosen_thicknesses)
        table.row({wording::say(one.text), with_sd(c.*one.mm, 2)});
    return table.text();
}

} // namespace platewright::cli
