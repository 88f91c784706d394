#include "base/interval.hpp"
#include "base/text.hpp"
#include "bench/workbench.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find.hpp"
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
    return {{"number", mode.number},
            {"plate", mode.plate},
            {"reference", mode.reference},
            {"hz", mode.hz},
            {"hz_sd", mode.hz_sd},
            {"hz_95", or_null(mode.hz_sd.has_value(), base::plus_minus(mode.hz_sd.value_or(0)))},
            {"cents", mode.cents},
            {"q_ratio", mode.q_ratio},
            {"beyond_spread", mode.beyond_spread}};
}

void print_against_json(const bench::PlateView& view) {
    const trends::Comparison& comparison = *view.comparison;
    Json plate = plate_json(view.history);
    plate["session"] = view.session;
    print({{"schema", "platewright.against/1"},
           {"plate", plate},
           {"reference", {{"label", view.reference_label}, {"session", view.reference->session}}},
           {"modes", array_of(comparison.modes, compared_json)},
           {"plate_ratio_5_to_2", comparison.plate_ratio_5_to_2},
           {"reference_ratio_5_to_2", comparison.reference_ratio_5_to_2},
           {"mass_g", comparison.mass_g},
           {"doubt", comparison.doubt}});
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
    ledger::Store store = needed(open_to_read(common.ledger_folder()));
    const ledger::PlateRecord plate = needed(find_plate(store, options.plate));
    const ledger::Id session = needed(reference_session(store, options.reference));
    bench::Workbench bench(store, {});
    bench.open_plate(plate.id);
    bench.compare_with(session);
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
    add_plate(*command, options->plate);
    command
        ->add_option("REFERENCE", options->reference,
                     "A reference's name, or another plate (its newest session)")
        ->required();
    add_chart(*command, options->chart, "Draw both spectra");
    finish(*command, common, chosen, options, against);
}

} // namespace platewright::cli
