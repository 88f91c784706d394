#include "screen/wood/beside_good.hpp"

#include "ledger/limits.hpp"
#include "screen/draw/parts.hpp"
#include "screen/fields/fields.hpp"
#include "screen/fields/typed.hpp"
#include "screen/wood/stock_table.hpp"
#include "screen/wood/wood_figures.hpp"
#include "trends/wood/wood_choice.hpp"

#include <algorithm>
#include <array>

namespace platewright::screen {
namespace {
using bench::StockedWood;
} // namespace

void BesideGood::draw(const ViewContext& context, const StockedWood& wood, ledger::Id good_id) {
    const StockedWood* good = find_stocked(*context.now.stock, good_id);
    if (good == nullptr) {
        heading(context, say("Which comes nearest?"));
        text(context, say("Choose the wood that made the good instrument and press “Set all beside "
                          "it”: the table then says how far each is from it, and here stands how "
                          "thick a plate of another is to be."));
        return;
    }
    heading(context, say("Compared with {}", good->history.wood.label));
    const Distances distances = distances_from(*context.now.stock, good_id);
    const auto nearest =
        std::ranges::min_element(distances, {}, [](const auto& d) { return d.second; });
    if (nearest == distances.end()) {
        text(context, say("No other wood has both a density and a stiffness along the grain to set "
                          "beside it."));
        return;
    }
    text(context, say("Nearest: {}, {} apart.",
                      find_stocked(*context.now.stock, nearest->first)->history.wood.label,
                      figure(nearest->second, 2)));
    if (wood.history.wood.id == good_id || !wood.figures || !good->figures) {
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
void BesideGood::thickness(const ViewContext& context, const StockedWood& wood,
                           const StockedWood& good) {
    const auto& plate = context.now.plate;
    const auto& work = context.now.work;
    if (good_mm_.empty() && plate && plate->history.wood &&
        plate->history.wood->wood.id == good.history.wood.id && work && work->map) {
        good_mm_ = figure(work->map->facts.mean_mm, 2);
    }
    field(context, say("thickness of its plate, mm"), good_mm_, 160);
    const auto typed = typed_number(good_mm_, say("The thickness"), ledger::k_asked_thickness);
    if (!typed || !*typed) {
        faint_text(context, !typed ? typed.fault().what
                                   : say("Say how thick the good plate is in the mean, "
                                         "and here stands what this wood needs."));
        return;
    }
    const trends::ThicknessChoice choice =
        trends::thickness_for(*wood.figures, *good.figures, **typed);
    for (const trends::ChosenThickness& one : trends::k_chosen_thicknesses) {
        draw_fact(context, say(one.text), with_its_doubt(choice.*one.mm, 2) + " mm");
    }
    if (choice.mass_share_when_stiff) {
        text(context, say("As stiff in the mean, it weighs {} % of the other.",
                          figure(100.0 * *choice.mass_share_when_stiff, 0)));
    }
    faint_text(context, say("Outline and arching taken to be the same. Wood taken off can't be put "
                            "back: stop above, and tap."));
}

} // namespace platewright::screen
