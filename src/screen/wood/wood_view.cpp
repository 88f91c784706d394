#include "screen/wood/wood_view.hpp"

#include "base/interval.hpp"
#include "base/text.hpp"
#include "ledger/limits.hpp"
#include "plate/wood/wood.hpp"
#include "screen/draw/parts.hpp"
#include "screen/fields/fields.hpp"
#include "screen/fields/typed.hpp"
#include "trends/wood/wood_choice.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <utility>

namespace platewright::screen {
namespace {
using bench::StockedWood;
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

/// Distances from the good wood (trends::Likeness), by the wood's id; empty where none is set.
using Distances = std::map<ledger::Id, double>;
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

/// The stock as a table in the flow of a page, a wood a row, each figure with its 95 %; gives the
/// wood that was pressed.
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

/// "12.10 ± 0.45", with 95 %; a dash where nothing is known.
std::string with_its_doubt(const std::optional<Figure>& f, int decimals) {
    return f ? wording::with_range(f->value, f->sd, decimals) : std::string("\u2013");
}

/// A low row of the flow: what, and its value.
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

/// The figures of one wood by direction of the grain.
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
        {with_its_doubt(f.e_l_gpa, 1), with_its_doubt(f.e_r_gpa, 2), with_its_doubt(f.g_lr_gpa, 2)},
        p.ink);
    put(say("sound, m/s"), {with_its_doubt(f.sound_l_m_s, 0), with_its_doubt(f.sound_r_m_s, 0), {}},
        p.ink);
    put("Q",
        {with_its_doubt(f.q_along, 0), with_its_doubt(f.q_across, 0), with_its_doubt(f.q_twist, 0)},
        p.ink);
}

const StockedWood* find(const bench::StockView& stock, ledger::Id wood) {
    const auto found =
        std::ranges::find(stock.woods, wood, [](const auto& w) { return w.history.wood.id; });
    return found == stock.woods.end() ? nullptr : &*found;
}

} // namespace

/// The figures are computed only when someone looks; the ledger's changes come by themselves.
void WoodView::keep_asked(const ViewContext& context) {
    if (!context.now.stock && !asked_) {
        asked_ = true;
        context.send(bench::command::StudyStock{});
    }
}

void WoodView::begin(const ledger::WoodRecord& wood, bool whole) {
    draft_.emplace(wood);
    whole_ = whole;
    wrong_.clear();
    fresh_ = true;
}

void WoodView::keep_form(const ViewContext& context, const Box& area) {
    FormAnswer answer =
        wood_form(context, area, *draft_, whole_, wrong_, std::exchange(fresh_, false));
    if (answer == FormAnswer::save) {
        const auto piece =
            whole_ ? draft_->finished() : Filled<bench::command::AddWood>(base::Fault{});
        const auto wood = draft_->finished_wood();
        wrong_ = whole_ && !piece ? Complaint{piece.fault().what, piece.at}
                 : !wood          ? Complaint{wood.fault().what, wood.at}
                                  : Complaint{};
        if (!wrong_.empty()) {
            return;
        }
        if (whole_) {
            context.send(*piece);
        } else {
            context.send(bench::command::SaveWood{*wood});
        }
    }
    if (answer != FormAnswer::open) {
        draft_.reset();
    }
}

void WoodView::draw(const ViewContext& context, Box area) {
    const double scale = context.look.scale;
    keep_asked(context);
    if (draft_) {
        keep_form(context, area);
        return;
    }
    const auto stock = context.now.stock;
    if (context.keys.take(U'w')) {
        begin({}, true);
        return;
    }
    if (!stock || stock->woods.empty()) {
        if (invitation(context, area, say("No wood in the ledger yet"),
                       say("Measure, weigh and tap a billet, a wedge, a bar or a board: its "
                           "density, stiffness and damping then stand beside those of your other "
                           "wood, and of the one that made the good instrument."),
                       say("Enter a piece of wood"), "W")) {
            begin({}, true);
        }
        return;
    }
    if (context.stacks) {
        if (!stock->doing.empty()) {
            working_bar(context, next_column(context, area, 0.0, 40.0 * scale), stock->doing,
                        stock->share);
        }
        table(context, next_column(context, area, 0.0));
        pages(context, area);
        return;
    }
    if (!stock->doing.empty()) {
        working_bar(context, take_bottom(area, 40.0 * scale), stock->doing, stock->share);
        take_bottom(area, 10.0 * scale);
    }
    table(context, take_top(area, 0.44 * area.height()));
    take_top(area, 10.0 * scale);
    pages(context, area);
}

void WoodView::pages(const ViewContext& context, Box area) {
    const auto stock = context.now.stock;
    const StockedWood* chosen = find(*stock, chosen_);
    if (chosen == nullptr) {
        chosen = &stock->woods.front();
        chosen_ = chosen->history.wood.id;
    }
    {
        const Box box = next_column(context, area, 0.55 * area.width());
        if (std::exchange(look_down_, false) && context.stacks) {
            ImGui::SetScrollFromPosY(static_cast<float>(box.top) - ImGui::GetWindowPos().y, 0.0F);
        }
        const Page page(context, "chosen", box);
        chosen_page(context, *chosen);
    }
    const Page page(context, "good", next_column(context, area, area.width()));
    good_page(context, *chosen);
}

void WoodView::table(const ViewContext& context, const Box& box) {
    const bench::StockView& stock = *context.now.stock;
    const Page page(context, "stock", box);
    const std::string_view label =
        say("all at this moisture of the wood, %; empty: each as it was");
    const bool entered = field(context, label, moisture_, 160, false, &complaint_);
    if (flow_press(context, say("Read again"), {}, false, true) || entered) {
        const auto typed =
            typed_number(moisture_, say("The wood's moisture"), ledger::k_asked_moisture);
        complaint_ = typed ? Complaint{} : Complaint{typed.fault().what, std::string(label)};
        if (typed) {
            context.send(bench::command::StudyStock{*typed});
        }
    }
    if (flow_press(context, say("Enter a piece of wood"), "W", false, true)) {
        begin({}, true);
    }
    away_.draw_back(context);
    const Distances distances = distances_from(stock, good_);
    if (const auto pressed = stock_table(context, chosen_, distances, sorting_)) {
        chosen_ = *pressed;
        look_down_ = true;
    }
}

void WoodView::chosen_page(const ViewContext& context, const StockedWood& wood) {
    const ledger::WoodRecord& record = wood.history.wood;
    heading(context, record.label);
    buttons(context, wood);
    for (const std::string& words : {record.origin, record.notes}) {
        if (!words.empty()) {
            faint_text(context, words);
        }
    }
    if (wood.figures) {
        figures_table(context, *wood.figures);
        text(context, say("density {} kg/m³, radiation ratio {} m⁴/(kg s)",
                          with_its_doubt(wood.figures->density_kg_m3, 0),
                          with_its_doubt(wood.figures->radiation, 1)));
        if (wood.figures->moisture_pct) {
            faint_text(context, say("All at {} % moisture of the wood.",
                                    figure(*wood.figures->moisture_pct, 1)));
        }
        for (const std::string& remark : wood.figures->remarks) {
            text(context, remark);
        }
    }
    for (const ledger::WoodTest& test : wood.history.tests) {
        faint_text(context, trends::line_of(test));
    }
}

void WoodView::buttons(const ViewContext& context, const StockedWood& wood) {
    const ledger::WoodRecord& record = wood.history.wood;
    if (flow_press(context, say("Set all beside it"), {},
                   good_ == record.id ? Stress::chosen : Stress::plain, false)) {
        good_ = good_ == record.id ? 0 : record.id;
    }
    if (flow_press(context, say("Another piece of it"), {}, false, true)) {
        begin(record, true);
    }
    if (flow_press(context, say("Change"), {}, false, true)) {
        begin(record, false);
    }
    if (context.now.plate) {
        const ledger::PlateHistory& plate = context.now.plate->history;
        const bool carved = plate.wood && plate.wood->wood.id == record.id;
        const std::string name = plate_name(plate.instrument, plate.plate);
        if (flow_press(context,
                       carved ? say("{} is not of it", name) : say("{} is carved from it", name),
                       {}, false, true)) {
            context.send(bench::command::SetCarved{
                plate.plate.id, carved ? std::nullopt : std::optional(record.id)});
        }
    }
    if (flow_press(context, say("Put away"), {}, false, true)) {
        away_.put(context, "wood", record.id, record.label);
        chosen_ = 0;
    }
}

void WoodView::good_page(const ViewContext& context, const StockedWood& wood) {
    const StockedWood* good = find(*context.now.stock, good_);
    if (good == nullptr) {
        heading(context, say("Which comes nearest?"));
        text(context, say("Choose the wood that made the good instrument and press “Set all beside "
                          "it”: the table then says how far each is from it, and here stands how "
                          "thick a plate of another is to be."));
        return;
    }
    heading(context, say("Compared with {}", good->history.wood.label));
    const Distances distances = distances_from(*context.now.stock, good_);
    const auto nearest =
        std::ranges::min_element(distances, {}, [](const auto& d) { return d.second; });
    if (nearest == distances.end()) {
        text(context, say("No other wood has both a density and a stiffness along the grain to set "
                          "beside it."));
        return;
    }
    text(context,
         say("Nearest: {}, {} apart.", find(*context.now.stock, nearest->first)->history.wood.label,
             figure(nearest->second, 2)));
    if (wood.history.wood.id == good_ || !wood.figures || !good->figures) {
        return;
    }
    thickness(context, wood, *good);
    const std::array one{*wood.figures};
    for (const trends::Likeness& likeness : trends::nearest(one, *good->figures)) {
        std::string words;
        for (const trends::ComparedFigure& f : likeness.figures) {
            words += (words.empty() ? "" : ", ") + std::string(f.text) + " " +
                     figure(100.0 * f.ratio, 0) + " %";
        }
        text(context, say("{} of it in: {}", wood.history.wood.label, words));
    }
    faint_text(context, say("Counted in spreads between trees of one species; two trees met by "
                            "chance are about 1.4 apart."));
}

/// How thick a plate of this wood is to be.
void WoodView::thickness(const ViewContext& context, const StockedWood& wood,
                         const StockedWood& good) {
    const auto& plate = context.now.plate;
    const auto& work = context.now.work;
    if (good_mm_.empty() && plate && plate->history.wood && plate->history.wood->wood.id == good_ &&
        work && work->map) {
        good_mm_ = figure(work->map->facts.mean_mm, 2);
    }
    field(context, say("thickness of its plate, mm"), good_mm_, 160);
    const auto typed = typed_number(good_mm_, say("The thickness"), ledger::k_asked_thickness);
    if (!typed || !*typed) {
        faint_text(context, !typed ? typed.fault().what
                                   : std::string(say("Say how thick the good plate is in the mean, "
                                                     "and here stands what this wood needs.")));
        return;
    }
    const trends::ThicknessChoice choice =
        trends::thickness_for(*wood.figures, *good.figures, **typed);
    for (const trends::ChosenThickness& one : trends::k_chosen_thicknesses) {
        fact_row(context, say(one.text), with_its_doubt(choice.*one.mm, 2) + " mm");
    }
    if (choice.mass_share_when_stiff) {
        text(context, say("As stiff in the mean, it weighs {} % of the other.",
                          figure(100.0 * *choice.mass_share_when_stiff, 0)));
    }
    faint_text(context, say("Outline and arching taken to be the same. Wood taken off can't be put "
                            "back: stop above, and tap."));
}

} // namespace platewright::screen
