#include "screen/wood/wood_view.hpp"

#include "ledger/limits.hpp"
#include "screen/draw/parts.hpp"
#include "screen/fields/fields.hpp"
#include "screen/fields/stack.hpp"
#include "screen/fields/typed.hpp"
#include "screen/wood/stock_table.hpp"
#include "screen/wood/wood_figures.hpp"
#include "trends/wood/wood_choice.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace platewright::screen {
namespace {
using bench::StockedWood;
using plot::Box;
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
    take_working_bar(context, area, stock->doing, stock->share);
    table(context, next_band(context, area, 0.44 * area.height(), 0.0));
    pages(context, area);
}

void WoodView::pages(const ViewContext& context, Box area) {
    const auto stock = context.now.stock;
    const StockedWood* chosen = find_stocked(*stock, chosen_);
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
    beside_good_.draw(context, *chosen, good_);
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
    if (const auto pressed = draw_stock(context, chosen_, distances, sorting_)) {
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
        draw_wood_figures(context, *wood.figures);
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

} // namespace platewright::screen
