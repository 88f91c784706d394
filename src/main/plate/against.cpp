#include "base/interval.hpp"
#include "base/text.hpp"
#include "bench/workbench.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find/find_plate.hpp"
#include "main/find/find_reference.hpp"
#include "main/json.hpp"
#include "plot/spectrum.hpp"
#include "report/tables/chart_file.hpp"
#include "screen/draw/pictures.hpp"

#include <cmath>
#include <fmt/format.h>
#include <memory>

namespace platewright::cli {
namespace {

struct AgainstOptions {
    std::string plate, reference;
    std::filesystem::path chart;
};

Json compared_json(const trends::ComparedMode& mode) {
    return {{"number", or_null(mode.number)},
            {"plate", mode.plate ? to_json(*mode.plate) : Json(nullptr)},
            {"reference", mode.reference ? to_json(*mode.reference) : Json(nullptr)},
            {"hz", or_null(mode.hz)},
            {"hz_sd", or_null(mode.hz_sd)},
            {"hz_95", mode.hz_sd ? Json(base::plus_minus(*mode.hz_sd)) : Json(nullptr)},
            {"cents", or_null(mode.cents)},
            {"q_ratio", or_null(mode.q_ratio)},
            {"beyond_spread", mode.beyond_spread}};
}

void print_against_json(const bench::PlateView& view) {
    const trends::Comparison& comparison = *view.comparison;
    Json modes = Json::array();
    for (const trends::ComparedMode& mode : comparison.modes)
        modes.push_back(compared_json(mode));
    print({{"schema", "platewright.against/1"},
           {"plate",
            {{"id", view.history.plate.id},
             {"label", view.history.plate.label},
             {"session", view.session}}},
           {"reference", {{"label", view.reference_label}, {"session", view.reference->session}}},
           {"modes", modes},
           {"plate_ratio_5_to_2", or_null(comparison.plate_ratio_5_to_2)},
           {"reference_ratio_5_to_2", or_null(comparison.reference_ratio_5_to_2)},
           {"mass_g", or_null(comparison.mass_g)},
           {"doubt", comparison.doubt}},
          true);
}

void print_table(const bench::PlateView& view) {
    const trends::Comparison& comparison = *view.comparison;
    say(fmt::format("{} against {}", view.history.plate.label, view.reference_label));
    Table table({"mode", "plate Hz", "reference Hz", "difference", "± Hz (95 %)", "cents",
                 "Q plate", "Q reference", ""});
    const auto value = [](const std::optional<modes::Mode>& mode, double modes::Mode::*what,
                          int decimals) {
        return mode ? base::fixed((*mode).*what, decimals) : std::string("–");
    };
    for (const trends::ComparedMode& mode : comparison.modes)
        table.row({mode.number ? modes::mode_text(*mode.number) : "",
                   value(mode.plate, &modes::Mode::frequency_hz, 1),
                   value(mode.reference, &modes::Mode::frequency_hz, 1),
                   mode.hz ? base::signed_fixed(*mode.hz, 1) : "–",
                   mode.hz_sd ? base::fixed(base::plus_minus(*mode.hz_sd), 1) : "–",
                   mode.cents ? base::signed_fixed(*mode.cents, 0) : "–",
                   value(mode.plate, &modes::Mode::q, 0), value(mode.reference, &modes::Mode::q, 0),
                   !mode.hz             ? ""
                   : mode.beyond_spread ? "differs"
                                        : "within the spread"});
    say(table.text());
    if (comparison.plate_ratio_5_to_2 && comparison.reference_ratio_5_to_2)
        say(fmt::format("  mode 5 to mode 2: {} here, {} there",
                        base::fixed(*comparison.plate_ratio_5_to_2, 2),
                        base::fixed(*comparison.reference_ratio_5_to_2, 2)));
    if (comparison.mass_g)
        say(fmt::format("  mass: {} g against the reference",
                        base::signed_fixed(*comparison.mass_g, 1)));
    if (!comparison.doubt.empty())
        say("  " + comparison.doubt);
}

ExitCode against(const AgainstOptions& options, const Common& common) {
    auto store = open_to_read(common.ledger_folder());
    const auto plate = store ? find_plate(*store, options.plate)
                             : base::Result<ledger::PlateRecord>(store.fault());
    const auto session = plate ? reference_session(*store, options.reference)
                               : base::Result<ledger::Id>(plate.fault());
    if (!session) {
        complain(session.fault().what);
        return k_nothing_found;
    }
    bench::Workbench bench(*store, {});
    bench.open_plate(plate->id);
    bench.compare_with(*session);
    const auto view = bench.view();
    if (!view || !view->comparison) {
        complain(fmt::format("“{}” has no sessions yet to set against anything.", options.plate));
        return k_nothing_found;
    }
    if (common.json)
        print_against_json(*view);
    else
        print_table(*view);
    if (!options.chart.empty())
        report::write_chart(
            plot::beside_chart(screen::beside_picture(*view), plot::paper_palette()), options.chart,
            *report::picture_kind(options.chart));
    return k_done;
}

} // namespace

void add_against(CLI::App& app, Common& common, Chosen& chosen) {
    auto* command = app.add_subcommand("against", "A plate's newest session beside a reference");
    command->footer("A target is your own: this shows, and does not judge. “Differs” means by more "
                    "than hold and thread\n"
                    "explain (95 %).\n\n"
                    "  platewright against \"Wren back\" \"the back we liked\" --chart beside.svg");
    auto options = std::make_shared<AgainstOptions>();
    command->add_option("PLATE", options->plate, "The plate, by name or number")->required();
    command
        ->add_option("REFERENCE", options->reference,
                     "A reference's name, or another plate (its newest session)")
        ->required();
    add_chart(*command, options->chart, "Draw both spectra");
    add_ledger(*command, common);
    add_json(*command, common);
    command->callback([&chosen, &common, options] {
        chosen = [&common, options] { return against(*options, common); };
    });
}

} // namespace platewright::cli
