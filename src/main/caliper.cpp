#include <memory>

#include <fmt/format.h>

#include "base/failure.hpp"
#include "base/text.hpp"
#include "ledger/store.hpp"
#include "main/chart_option.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find_plate.hpp"
#include "main/find_session.hpp"
#include "main/form_options.hpp"
#include "main/json.hpp"
#include "screen/plate_pictures.hpp"
#include "trends/map_review.hpp"
#include "trends/plate_form.hpp"

namespace platewright::cli {
namespace {

using base::fixed;
using base::signed_fixed;

struct Options {
    std::string plate, session;
    std::filesystem::path file, chart;
    FormOptions form;
};

std::string place_text(plate::Point p) { return fmt::format("x {}, y {} mm", signed_fixed(p.x_mm, 0), fixed(p.y_mm, 0)); }

Json place_json(plate::Point p) { return {{"x_mm", p.x_mm}, {"y_mm", p.y_mm}}; }

Json form_json(const ledger::FormRecord& f, const plate::PlateForm& shape) {
    return {{"length_mm", f.size.length_mm}, {"upper_mm", f.size.upper_mm},   {"waist_mm", f.size.waist_mm},
            {"lower_mm", f.size.lower_mm},   {"measured_outline", !f.rim.empty()}, {"area_cm2", shape.outline.area_mm2() / 100},
            {"arch_mm", f.arching.arch_mm},  {"edge_mm", f.arching.edge_mm},  {"measured_heights", f.heights.size()},
            {"species", f.species},          {"pieces", f.two_piece ? 2 : 1}, {"f_holes", shape.f_holes.has_value()},
            {"bar", shape.bar.has_value()}};
}

Json change_json(const trends::MapChange& c, const ledger::PlateHistory& history) {
    Json deepest = place_json(c.deepest);
    deepest["mm"] = c.deepest_mm;
    deepest["mm_sd"] = c.deepest_sd_mm;
    return {{"since", to_json(history.sessions[c.session].session)}, {"mean_mm", c.mean_mm}, {"deepest", deepest},
            {"map_g", or_null(c.map_g)}, {"scales_g", or_null(c.scales_g)}};
}

void print_json(const ledger::PlateHistory& history, const trends::MapReview& r) {
    const ledger::SessionHistory& session = history.sessions[r.session];
    const plate::ThicknessFacts& f = r.facts;
    Json readings = Json::array();
    for (const plate::ThicknessReading& reading : session.thickness.readings) {
        Json one = place_json(reading.at);
        one["thickness_mm"] = reading.thickness_mm;
        one["name"] = reading.name;
        readings.push_back(one);
    }
    Json thinnest = place_json(f.thinnest), next = place_json(f.next_reading);
    thinnest["mm"] = f.thinnest_mm;
    thinnest["mm_sd"] = f.thinnest_sd_mm;
    next["worst_mm_sd"] = f.worst_sd_mm;
    next["worst_after_mm_sd"] = f.worst_sd_after_mm;
    print({{"schema", "platewright.caliper/1"},
           {"plate", {{"id", history.plate.id}, {"label", history.plate.label}, {"instrument", history.instrument.label}}},
           {"session", to_json(session.session)},
           {"form", form_json(*history.form, r.model->form())},
           {"readings", readings},
           {"map", {{"mean_mm", f.mean_mm}, {"middle_mm", f.middle_mm}, {"edge_mm", f.edge_mm},
                    {"middle_to_edge", f.middle_to_edge}, {"left_less_right_mm", f.left_less_right_mm},
                    {"thinnest", thinnest}, {"next_reading", next}}},
           {"mass", {{"predicted_g", r.predicted_g}, {"weighed_g", or_null(r.weighed_g)}, {"density_kg_m3", r.density_kg_m3},
                     {"density_is_own", r.density_is_own}, {"implied_density_kg_m3", or_null(r.implied_density_kg_m3)}}},
           {"change", r.change ? change_json(*r.change, history) : Json(nullptr)},
           {"remarks", r.remarks}},
          true);
}

void say_change(const trends::MapChange& c, const ledger::PlateHistory& history) {
    std::string line = fmt::format("  Since {}: {} mm off on the mean, most at {}: {} ± {} mm",
                                   base::local_date(history.sessions[c.session].session.begun), fixed(c.mean_mm, 2),
                                   place_text(c.deepest), fixed(c.deepest_mm, 2), fixed(c.deepest_sd_mm, 2));
    if (c.map_g && c.scales_g)
        line += fmt::format("; the maps say {} g, the scales {} g", fixed(*c.map_g, 1), fixed(*c.scales_g, 1));
    say(line + ".");
}

void print_text(const ledger::PlateHistory& history, const trends::MapReview& r) {
    const ledger::SessionHistory& session = history.sessions[r.session];
    const plate::ThicknessFacts& f = r.facts;
    say(fmt::format("{} ({}), {}: {} readings", history.plate.label, history.instrument.label,
                    base::local_date(session.session.begun), session.thickness.readings.size()));
    Table table({"middle mm", "edge mm", "middle to edge", "left less right mm", "thinnest mm", "at"});
    table.row({fixed(f.middle_mm, 2), fixed(f.edge_mm, 2), fixed(f.middle_to_edge, 2), signed_fixed(f.left_less_right_mm, 2),
               fmt::format("{} ± {}", fixed(f.thinnest_mm, 2), fixed(f.thinnest_sd_mm, 2)), place_text(f.thinnest)});
    say(table.text());
    say(fmt::format("  By this map the plate is {} g with a density of {} kg/m³ ({}){}.", fixed(r.predicted_g, 1),
                    fixed(r.density_kg_m3, 0), r.density_is_own ? "its own" : "the handbook's",
                    r.weighed_g ? fmt::format("; the scales say {} g, which makes {} kg/m³", fixed(*r.weighed_g, 1),
                                              fixed(*r.implied_density_kg_m3, 0))
                                : std::string("; it was not weighed in this session")));
    if (r.change)
        say_change(*r.change, history);
    say(fmt::format("  One more reading helps most at {}.", place_text(f.next_reading)));
    for (const std::string& remark : r.remarks)
        say("  " + remark);
}

/// Takes in what the command line brings: all of it, or nothing.
ExitCode take_in(const Options& o, const std::filesystem::path& folder) {
    ledger::Store store(folder);
    if (store.read_only())
        throw base::Failure(fmt::format("The ledger “{}” can only be read now, because {}. Nothing was stored.",
                                        store.folder().string(), store.why_read_only()));
    const auto plate = find_plate(store, o.plate);
    if (!plate) {
        complain(plate.fault().what);
        return k_nothing_found;
    }
    const ledger::PlateHistory history = store.history(plate->id).value();
    const auto form = form_with(history.form.value_or(trends::usual_form(history.instrument.kind)), o.form);
    if (!form) {
        complain(form.fault().what);
        return k_unusable;
    }
    std::vector<plate::ThicknessReading> readings;
    std::size_t session = 0;
    if (!o.file.empty()) {
        const auto meant = find_session(history, o.session);
        const auto text = read_text(o.file);
        const auto outline = trends::outline_of(*form);
        const auto read = text ? plate::thickness_from_csv(*text, *outline)
                               : base::Result<std::vector<plate::ThicknessReading>>(text.fault());
        if (!meant) {
            complain(meant.fault().what);
            return k_nothing_found;
        }
        if (!read) {
            complain(read.fault().what);
            return k_unusable;
        }
        session = *meant;
        readings = *read;
    }
    if (o.form.any() || !history.form)
        store.set_form(plate->id, *form);
    if (!readings.empty())
        store.set_thickness(history.sessions[session].session.id, readings);
    return k_done;
}

ExitCode caliper(const Options& o, const Common& common) {
    const auto kind = chart_kind(o.chart);
    if (!kind) {
        complain(kind.fault().what);
        return k_wrong_usage;
    }
    const auto known = open_to_read(common.ledger_folder());
    if (!known) {
        complain(known.fault().what);
        return k_nothing_found;
    }
    if (!o.file.empty() || o.form.any())
        if (const ExitCode code = take_in(o, common.ledger_folder()); code != k_done)
            return code;
    const auto store = open_to_read(common.ledger_folder());
    const auto plate = find_plate(*store, o.plate);
    if (!plate) {
        complain(plate.fault().what);
        return k_nothing_found;
    }
    const ledger::PlateHistory history = store->history(plate->id).value();
    const auto session = find_session(history, o.session);
    if (!session) {
        complain(session.fault().what);
        return k_nothing_found;
    }
    // without a session named, the newest that has a map
    const auto shown = o.session.empty() ? trends::session_with_map(history, *session) : std::optional(*session);
    if (!shown) {
        complain(fmt::format("“{}” has no caliper readings yet{}.", history.plate.label,
                             o.form.any() ? "; its shape is kept" : ": give a file of them"));
        return o.form.any() ? k_done : k_nothing_found;
    }
    const auto review = trends::review_map(history, *shown);
    if (!review) {
        complain(review.fault().what);
        return k_nothing_found;
    }
    common.json ? print_json(history, *review) : print_text(history, *review);
    if (*kind) {
        auto picture = screen::thickness_picture(*review, history.form->two_piece);
        picture.title = fmt::format("{}, {}", history.plate.label, base::local_date(history.sessions[*shown].session.begun));
        report::write_chart(picture, o.chart, **kind);
        if (!common.json)
            say(fmt::format("The map is in {}", o.chart.string()));
    }
    return k_done;
}

} // namespace

void add_caliper(CLI::App& app, Common& common, Chosen& chosen) {
    auto* command = app.add_subcommand("caliper", "Take a thickness map in, and describe it");
    command->footer("FILE holds a reading a line: x, y and thickness in mm, or a place's name and the thickness; x from the\n"
                    "centre line, positive to the right as seen from the outside, y from the lower end. Without FILE the\n"
                    "map that is kept is described. Bad readings are named, and then nothing is stored.\n\n"
                    "  platewright caliper \"Wren back\" readings.csv --length 355 --upper 168 --waist 112 --lower 207\n"
                    "  platewright caliper \"Wren back\" --chart wren-map.pdf");
    auto o = std::make_shared<Options>();
    command->add_option("PLATE", o->plate, "The plate, by name or number")->required();
    command->add_option("FILE", o->file, "Caliper readings (.csv)");
    command->add_option("--session", o->session, "The session, by date or number [the newest]")->type_name("SESSION");
    add_form_options(*command, o->form);
    command->add_option("--chart", o->chart, "Draw the map into a file: .png, .svg or .pdf")->type_name("FILE");
    add_ledger(*command, common);
    add_json(*command, common);
    command->callback([&chosen, &common, o] { chosen = [&common, o] { return caliper(*o, common); }; });
}

} // namespace platewright::cli
