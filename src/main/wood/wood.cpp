#include "base/text.hpp"
#include "ledger/limits.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find.hpp"
#include "main/typed.hpp"
#include "main/wood/wood_text.hpp"
#include "trends/review/map_review.hpp"

#include <fmt/format.h>
#include <memory>

namespace platewright::cli {
namespace {

constexpr const char* k_wood_schema = "platewright.wood/1";

struct WoodOptions {
    std::string wood, like, plate, moisture, thickness;
    bool none = false;
};

std::optional<double> moisture(const WoodOptions& o) {
    return typed_number(o.moisture, "--moisture", ledger::k_asked_moisture);
}

ReadWood read_one(const ledger::WoodHistory& history, const WoodOptions& o) {
    return {history, trends::wood_figures(history, moisture(o))};
}

std::vector<ReadWood> read_stock(const ledger::Store& store, const WoodOptions& o) {
    std::vector<ReadWood> stock;
    ProgressLine line("reading the taps of the wood");
    const auto progress = line.callback();
    const std::vector<ledger::WoodHistory> woods = store.wood_stock();
    for (const ledger::WoodHistory& one : woods) {
        stock.push_back(read_one(one, o));
        progress(static_cast<double>(stock.size()) / static_cast<double>(woods.size()));
    }
    line.clear();
    return stock;
}

ExitCode list_wood(const WoodOptions& o, const Common& common) {
    const std::vector<ReadWood> stock = read_stock(needed(open_to_read(common.ledger_folder())), o);
    if (common.json) {
        print({{"schema", k_wood_schema}, {"woods", array_of(stock, wood_json)}});
    } else if (stock.empty()) {
        say("The ledger holds no wood yet: `platewright wood add` brings it in.");
    } else {
        put(stock_table(stock));
        say("  One figure a wood; `platewright wood show` says how sure each is.");
    }
    return stock.empty() ? k_nothing_found : k_done;
}

ExitCode show_wood(const WoodOptions& o, const Common& common) {
    const ReadWood wood =
        read_one(needed(find_wood(needed(open_to_read(common.ledger_folder())), o.wood)), o);
    if (common.json)
        print({{"schema", k_wood_schema}, {"wood", wood_json(wood)}});
    else
        put(wood_page(wood));
    return k_done;
}

ExitCode nearest(const WoodOptions& o, const Common& common) {
    const ledger::Store store = needed(open_to_read(common.ledger_folder()));
    const ledger::WoodHistory good = needed(find_wood(store, o.wood));
    std::vector<ReadWood> stock = read_stock(store, o);
    std::erase_if(stock, [&](const ReadWood& one) { return one.history.wood.id == good.wood.id; });
    std::vector<trends::WoodFigures> figures;
    for (const ReadWood& one : stock)
        figures.push_back(one.figures);
    const auto likenesses = trends::nearest(figures, read_one(good, o).figures);
    if (common.json) {
        Json found = Json::array();
        for (const trends::Likeness& one : likenesses)
            found.push_back(to_json(one, stock[one.index]));
        print({{"schema", k_wood_schema}, {"like", good.wood.label}, {"nearest", found}});
    } else if (!likenesses.empty()) {
        say(fmt::format("Nearest to “{}”:", good.wood.label));
        put(likeness_table(likenesses, stock));
        say("  Distance counts spreads between trees of one species; two trees met by chance are "
            "about 1.4 apart.");
    }
    if (likenesses.empty())
        complain(fmt::format(
            "No other wood has both a density and a stiffness along the grain to set beside “{}”.",
            good.wood.label));
    return likenesses.empty() ? k_nothing_found : k_done;
}

/// What was typed, else the mean of the newest thickness map of a plate of that name.
double thickness_of(const ledger::Store& store, const WoodOptions& o) {
    if (const auto typed = typed_number(o.thickness, "--at", ledger::k_asked_thickness))
        return *typed;
    for (const ledger::PlateRecord& plate : store.find_plates(o.like)) {
        const auto history = store.history(plate.id);
        const auto session = history->sessions.empty()
                                 ? std::nullopt
                                 : trends::session_with_map(*history, history->sessions.size() - 1);
        if (session)
            if (const auto review = trends::review_map(*history, *session))
                return review->facts.mean_mm;
    }
    throw Refusal{
        fmt::format("How thick was the plate of “{}”? Say it with --at, or name a plate that has a "
                    "thickness map.",
                    o.like),
        k_nothing_found};
}

ExitCode thickness(const WoodOptions& o, const Common& common) {
    const ledger::Store store = needed(open_to_read(common.ledger_folder()));
    const ledger::WoodHistory wood = needed(find_wood(store, o.wood)),
                              good = needed(find_wood(store, o.like));
    const double good_mm = thickness_of(store, o);
    const auto choice =
        trends::thickness_for(read_one(wood, o).figures, read_one(good, o).figures, good_mm);
    if (common.json) {
        print({{"schema", k_wood_schema},
               {"wood", wood.wood.label},
               {"like", good.wood.label},
               {"like_mm", good_mm},
               {"thickness", to_json(choice)}});
    } else {
        say(fmt::format("“{}” for a plate like one of “{}” that is {} mm thick:", wood.wood.label,
                        good.wood.label, base::fixed(good_mm, 2)));
        put(thickness_table(choice));
        if (choice.mass_share_when_stiff)
            say(fmt::format("  As stiff in the mean, it weighs {} % of the other.",
                            base::fixed(100.0 * *choice.mass_share_when_stiff, 0)));
        say("  Outline and arching taken to be the same; wood taken off can't be put back: stop "
            "above, and tap.");
    }
    return k_done;
}

ExitCode carve(const WoodOptions& o, const Common& common) {
    ledger::Store store = open_to_change(common.ledger_folder(), "Nothing was changed.");
    const ledger::PlateRecord plate = needed(find_plate(store, o.plate));
    if (o.none) {
        store.set_carved(plate.id, std::nullopt);
        say(fmt::format("“{}” is not said to be of any wood now.", plate.label));
        return k_done;
    }
    const ledger::WoodHistory wood = needed(find_wood(store, o.wood));
    store.set_carved(plate.id, wood.wood.id);
    say(fmt::format("“{}” is carved from “{}”: its model starts from what that wood told.",
                    plate.label, wood.wood.label));
    return k_done;
}

using WoodAct = ExitCode (*)(const WoodOptions&, const Common&);

CLI::App* subcommand(CLI::App& wood, const char* name, const char* what, WoodAct act,
                     Common& common, Chosen& chosen, const std::shared_ptr<WoodOptions>& o,
                     bool reads) {
    auto* command = wood.add_subcommand(name, what);
    add_ledger(*command, common);
    if (reads) {
        option(*command, "--moisture", o->moisture,
               "Give all figures at this moisture of the wood, in % [as each was]", "PCT");
        add_json(*command, common);
    }
    command->callback(
        [&chosen, &common, o, act] { chosen = [&common, o, act] { return act(*o, common); }; });
    return command;
}

} // namespace

void add_wood(CLI::App& app, Common& common, Chosen& chosen) {
    auto* wood =
        app.add_subcommand("wood", "The wood in stock: what its taps tell, and what to make of it");
    wood->require_subcommand(1);
    wood->footer("`platewright wood add --help` and so on teach each part.");
    add_wood_add(*wood, common, chosen);
    const auto o = std::make_shared<WoodOptions>();
    subcommand(*wood, "list", "All wood with its density, stiffness, speed of sound and Q",
               list_wood, common, chosen, o, true);
    auto* one = subcommand(*wood, "show", "All that is known of one wood", show_wood, common,
                           chosen, o, true);
    one->add_option("WOOD", o->wood, "The wood, by name or number, or a plate carved from it")
        ->required();
    auto* near = subcommand(*wood, "nearest",
                            "Which wood comes nearest to the one that made the good instrument",
                            nearest, common, chosen, o, true);
    near->add_option("WOOD", o->wood, "The good wood, or a plate carved from it")->required();
    auto* thick = subcommand(*wood, "thickness",
                             "How thick a plate of a wood is to be, to be like one of another",
                             thickness, common, chosen, o, true);
    thick->add_option("WOOD", o->wood, "The wood to be used")->required();
    thick->add_option("--like", o->like, "The good wood, or a plate carved from it")
        ->required()
        ->type_name("WOOD");
    option(*thick, "--at", o->thickness, "Its plate's thickness in mm [the mean of its newest map]",
           "MM");
    auto* from = subcommand(*wood, "carve", "Say what a plate was carved from", carve, common,
                            chosen, o, false);
    add_plate(*from, o->plate);
    auto* what = from->add_option("WOOD", o->wood, "The wood, by name or number");
    from->add_flag("--none", o->none, "Take back what was said")->excludes(what);
    from->callback([&chosen, &common, o] {
        if (o->wood.empty() && !o->none)
            throw CLI::ValidationError("WOOD", "name the wood, or give --none");
        chosen = [&common, o] { return carve(*o, common); };
    });
}

} // namespace platewright::cli
