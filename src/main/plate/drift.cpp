#include "plot/drift.hpp"

#include "base/interval.hpp"
#include "base/text.hpp"
#include "bench/settings.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find.hpp"
#include "main/json.hpp"
#include "main/plate/drift_targets.hpp"
#include "main/question.hpp"
#include "main/typed.hpp"
#include "report/sheet/sheet_parts.hpp"
#include "report/tables/chart_file.hpp"
#include "screen/draw/pictures.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <memory>

namespace platewright::trends {
// Their words in JSON.
NLOHMANN_JSON_SERIALIZE_ENUM(Advice, {{Advice::tap, "tap"},
                                      {Advice::set_goal, "set_goal"},
                                      {Advice::stop, "stop"},
                                      {Advice::weigh, "weigh"},
                                      {Advice::measure, "measure"},
                                      {Advice::take, "take"},
                                      {Advice::other_goal, "other_goal"}})
} // namespace platewright::trends

namespace platewright::cli {
namespace {

struct DriftOptions {
    std::string plate;
    std::filesystem::path chart;
    std::string across = "session";
    std::vector<std::string> targets;
    std::string like, pass, air;
    bool remember = false, target_is_right = false;
    const CLI::Option* in_air = nullptr;
};

Json forecast_json(const trends::Forecast& f) {
    const auto& next = f.gram_on;
    return {{"hz_per_g", f.hz_per_g},
            {"hz_per_g_sd", f.hz_per_g_sd},
            {"hz_per_g_95", base::plus_minus(f.hz_per_g_sd)},
            {"sessions", f.sessions},
            {"mass_g", f.mass_g},
            {"hz", f.hz},
            {"after_1_g_hz", next ? Json(next->value) : Json(nullptr)},
            {"after_1_g_low_hz", next ? Json(next->low) : Json(nullptr)},
            {"after_1_g_high_hz", next ? Json(next->high) : Json(nullptr)}};
}

Json track_json(const trends::TrackDrift& drift) {
    const auto point_json = [](const trends::TrackPoint& point) {
        Json json = point.value;
        json["session"] = point.session;
        json["confidence"] = point.confidence;
        return json;
    };
    return {{"number", number_of(drift.track.name)},
            {"points", array_of(drift.track.points, point_json)},
            {"steps", drift.steps},
            {"since_last", drift.since_last},
            {"since_beginning", drift.since_beginning},
            {"forecast", drift.forecast ? forecast_json(*drift.forecast) : Json(nullptr)}};
}

Json decision_json(const trends::Decision& d) {
    const bool has_mode = d.number != 0;
    return {{"advice", d.advice},
            {"number", or_null(has_mode, d.number)},
            {"now_hz", or_null(has_mode, d.now_hz)},
            {"doubt_hz", or_null(has_mode, d.doubt_hz)},
            {"sessions", d.sessions},
            {"goal_hz", or_null(has_mode && d.goal_hz > 0, d.goal_hz)},
            {"taps_wanted", d.taps_wanted},
            {"take_g", or_null(trends::is_of_wood(d.advice), d.take_g)},
            {"where", or_null(!d.where.empty(), d.where)},
            {"by_history", d.by_history},
            {"by_model", d.by_model},
            {"lowest_hz", or_null(d.advice == trends::Advice::other_goal, d.lowest_hz)},
            {"lowest_doubt_hz", or_null(d.advice == trends::Advice::other_goal, d.lowest_doubt_hz)},
            {"past_it", d.past_it},
            {"sentence", trends::sentence_of(d)},
            {"reason", trends::reason_of(d)}};
}

Json drift_json(const ledger::PlateHistory& history, const trends::PlateReport& report,
                const Json& air) {
    const trends::Drift& drift = report.drift;
    Json sessions = Json::array();
    for (std::size_t i = 0; i < history.sessions.size(); ++i) {
        Json session = history.sessions[i].session;
        session["ratio_5_to_2"] = drift.ratio_5_to_2[i];
        session["moisture_pct"] = drift.moisture_pct[i];
        sessions.push_back(session);
    }
    return {{"schema", "platewright.drift/1"},
            {"plate", plate_json(history)},
            {"sessions", sessions},
            {"tracks", array_of(drift.tracks, track_json)},
            {"targets", array_of(report.outlooks, target_json)},
            {"decision", decision_json(report.decision)},
            {"air", air},
            {"remarks", report.remarks}};
}

std::string number_or_dash(const std::optional<double>& value, int decimals) {
    return value ? base::fixed(*value, decimals) : "–";
}

std::string sessions_table(const ledger::PlateHistory& history, const trends::Drift& drift) {
    std::vector<std::string> head{"session", "stage", "g", "°C", "% RH"};
    for (const trends::TrackDrift& track : drift.tracks)
        if (track.track.name)
            head.push_back(modes::mode_text(track.track.name->number));
    const bool of_body = history.plate.part == modes::Part::body;
    if (!of_body)
        head.push_back("5 to 2");
    Table table(head);
    for (std::size_t i = 0; i < history.sessions.size(); ++i) {
        const ledger::SessionRecord& session = history.sessions[i].session;
        std::vector<std::string> row{
            base::local_date(session.begun), std::string(modes::to_text(session.stage)),
            number_or_dash(session.mass_g, 1), number_or_dash(session.temperature_c, 1),
            number_or_dash(session.humidity_pct, 0)};
        for (const trends::TrackDrift& track : drift.tracks) {
            if (!track.track.name)
                continue;
            std::string cell = "–";
            for (const trends::TrackPoint& point : track.track.points)
                if (point.session == i)
                    cell = base::fixed(point.value.frequency_hz, 1);
            row.push_back(cell);
        }
        if (!of_body)
            row.push_back(number_or_dash(drift.ratio_5_to_2[i], 2));
        table.row(std::move(row));
    }
    return table.text();
}

std::string change_text(const trends::Change& change) {
    return wording::signed_with_range(change.hz, change.hz_sd, 1);
}

std::string changes_table(const trends::Drift& drift) {
    Table table({"mode", "since last, Hz (95 %)", "cents", "since first, Hz (95 %)",
                 "Hz per g (95 %)", trends::told_step_words(drift) + ", Hz (95 %)"});
    for (const trends::TrackDrift& d : drift.tracks) {
        if (!d.track.name || !d.since_beginning)
            continue;
        std::string ahead = "–", slope = "–";
        if (const auto& f = d.forecast) {
            if (const auto& next = f->step_on)
                ahead = fmt::format("{} ({} to {})", base::fixed(next->value, 1),
                                    base::fixed(next->low, 1), base::fixed(next->high, 1));
            slope = wording::with_range(f->hz_per_g, f->hz_per_g_sd, 2);
        }
        table.row({modes::mode_text(d.track.name->number),
                   d.since_last ? change_text(*d.since_last) : "–",
                   d.since_last ? base::signed_fixed(d.since_last->cents, 0) : "–",
                   change_text(*d.since_beginning), slope, ahead});
    }
    return table.empty() ? "" : table.text();
}

/// What was asked for: the history as shown, and what was made of it.
struct Asked {
    ledger::PlateHistory history;
    std::optional<trends::HistoryInAir> in_air;
    std::optional<trends::Air> air;
    std::vector<ledger::TargetRecord> targets;
};

/// Shows one plate; with --json its object is returned and nothing printed.
Json show_drift(const Asked& asked, const DriftOptions& options, const Common& common) {
    const auto across = options.across == "mass"  ? plot::DriftAgainst::mass
                        : options.across == "day" ? plot::DriftAgainst::day
                                                  : plot::DriftAgainst::session;
    ledger::PlateHistory history = asked.in_air ? asked.in_air->history : asked.history;
    history.targets = asked.targets;
    trends::Question question = question_on(history);
    question.pass_g = typed_number(options.pass, "--pass", {0.05, 500, "g"});
    const trends::PlateReport report = trends::report_with_model(question);
    const trends::Drift& drift = report.drift;
    Json json;
    if (common.json) {
        json = drift_json(history, report,
                          asked.in_air ? air_json(*asked.in_air, *asked.air, asked.history)
                                       : Json(nullptr));
    } else {
        say(fmt::format("{} ({}), {} sessions", history.plate.label, history.instrument.label,
                        history.sessions.size()));
        if (asked.in_air)
            put("As measured:\n" + sessions_table(asked.history, trends::drift(asked.history)) +
                "\n" + air_heading(*asked.in_air, *asked.air));
        say(sessions_table(history, drift));
        const std::string changes = changes_table(drift);
        if (!changes.empty())
            say("\n" + changes);
        if (trends::has_forecast(drift))
            say("  A forecast rests on the sessions so far, not on where the wood comes off. Wood "
                "taken off can't be put\n"
                "  back: go in small steps, and tap again.");
        put(target_table(report.outlooks));
        if (history.plate.part != modes::Part::body)
            say("\n" + std::string(base::trimmed(trends::sentence_of(report.decision) + " " +
                                                 trends::reason_of(report.decision))));
        say(report.remarks);
        if (asked.in_air)
            say("  All but the first table is set over to the air named; what was measured is kept "
                "as it was.");
    }
    if (!options.chart.empty()) {
        plot::DriftPicture picture = screen::drift_picture(history, report, nullptr);
        picture.against = across;
        plot::Chart chart = plot::drift_chart(picture, plot::paper_palette());
        chart.title = report::title_of(history);
        draw_chart(chart, options.chart, common, "drift chart");
    }
    return json;
}

/// The plate of that name; all plates and the body of an instrument of that name.
std::vector<ledger::PlateRecord> plates_meant(const ledger::Store& store, const std::string& name) {
    std::vector<ledger::PlateRecord> found = store.find_plates(name);
    const bool one_instrument = std::ranges::all_of(found, [&](const ledger::PlateRecord& p) {
        return p.instrument == found.front().instrument;
    });
    const bool by_label = std::ranges::any_of(
        found, [&](const ledger::PlateRecord& p) { return same_label(p.label, name); });
    if (found.size() > 1 && one_instrument && !by_label)
        return found;
    return {needed(find_plate(store, name))};
}

ExitCode drift(const DriftOptions& options, const Common& common) {
    std::vector<ledger::TargetRecord> typed;
    for (const std::string& text : options.targets)
        typed.push_back(parse_target(text));
    const auto typed_air =
        options.air.empty() ? std::nullopt : std::optional{parse_air(options.air)};
    ledger::Store store = needed(options.remember ? open_to_remember(common.ledger_folder())
                                                  : open_to_read(common.ledger_folder()));
    const std::vector<ledger::PlateRecord> plates = plates_meant(store, options.plate);
    if (plates.size() > 1 && !(options.chart.empty() && typed.empty() && options.like.empty()))
        return refuse(
            fmt::format(
                "“{}” is an instrument of several plates: a chart or a target is for one of them.",
                options.plate),
            k_wrong_usage);
    if (options.remember && !options.target_is_right)
        if (const std::string question = question_to(typed, *store.history(plates.front().id));
            !question.empty())
            return refuse(question + " Nothing was kept; --target-is-right keeps it all the same.",
                          k_unusable);
    if (!options.like.empty()) {
        const auto more = needed(targets_like(store, options.like));
        typed.insert(typed.begin(), more.begin(), more.end()); // what is typed besides stands
    }
    if (options.remember)
        remember(store, plates.front().id, typed, typed_air);
    Json all = Json::array();
    bool found = false;
    for (const ledger::PlateRecord& plate : plates) {
        Asked asked{*store.history(plate.id), {}, {}, {}};
        asked.targets = merged_targets(asked.history.targets, typed);
        if (options.in_air->count() > 0)
            asked.air = typed_air.value_or(bench::remembered_air(store));
        if (asked.air)
            asked.in_air = trends::in_air(asked.history, *asked.air);
        found = found || !asked.history.sessions.empty();
        all.push_back(show_drift(asked, options, common));
    }
    if (common.json)
        print(all.size() == 1 ? all.front()
                              : Json{{"schema", "platewright.instrument/1"},
                                     {"instrument", options.plate},
                                     {"plates", all}});
    return found ? k_done : k_nothing_found;
}

} // namespace

void add_drift(CLI::App& app, Common& common, Chosen& chosen) {
    auto* command = app.add_subcommand(
        "drift", "How a plate's modes moved through its sessions, and the forecast");
    command->footer("  platewright drift \"Wren back\"\n"
                    "  platewright drift \"Wren back\" --chart wren.pdf --across mass\n"
                    "  platewright drift \"Wren back\" --target 5=350 --pass 1,5 --remember\n"
                    "  platewright drift \"Wren back\" --air 20:50\n"
                    "  platewright drift Wren");
    auto options = std::make_shared<DriftOptions>();
    command
        ->add_option("PLATE", options->plate,
                     "The plate, by name or number; an instrument: its plates and body")
        ->required();
    add_chart(*command, options->chart, "Draw the chart");
    choice(*command, "--across", options->across, "The chart's axis: session, mass or day",
           {"session", "mass", "day"});
    repeated(*command, "--target", options->targets,
             "Frequency a mode is to come to, or N=none to forget it", "N=HZ");
    option(*command, "--like", options->like,
           "Take the targets from a reference, or another plate's newest session", "REFERENCE");
    option(*command, "--pass", options->pass, "The pass that is meant, in g [as the last ones]",
           "G");
    options->in_air =
        add_air(*command, options->air,
                "Set masses and modes over to this air [the one remembered, else 20:50]");
    command->add_flag("--remember", options->remember,
                      "Keep the targets and the air typed, for next time and the window");
    add_target_is_right(*command, options->target_is_right);
    finish(*command, common, chosen, options, drift);
}

} // namespace platewright::cli
