#include <memory>

#include <fmt/format.h>

#include "base/text.hpp"
#include "main/commands.hpp"
#include "main/console.hpp"
#include "main/find_plate.hpp"
#include "main/json.hpp"
#include "plot/drift.hpp"
#include "report/chart_file.hpp"
#include "screen/pictures.hpp"
#include "trends/remarks.hpp"

namespace platewright::cli {
namespace {

struct Options {
    std::string plate;
    std::filesystem::path chart;
    std::string across = "session";
};

using Forecasts = std::vector<std::optional<trends::Forecast>>;

Json forecast_json(const trends::Forecast& f) {
    const trends::Interval next = trends::hz_at(f, f.mass_g - 1);
    return {{"hz_per_g", f.hz_per_g}, {"hz_per_g_sd", f.hz_per_g_sd}, {"sessions", f.sessions},
            {"mass_g", f.mass_g},     {"hz", f.hz},                   {"after_1_g_hz", next.value},
            {"after_1_g_low_hz", next.low}, {"after_1_g_high_hz", next.high}};
}

Json track_json(const trends::TrackDrift& drift, const std::optional<trends::Forecast>& forecast) {
    Json points = Json::array();
    for (const trends::TrackPoint& point : drift.track.points) {
        Json one = to_json(point.value);
        one["session"] = point.session;
        one["confidence"] = point.confidence;
        points.push_back(one);
    }
    return {{"number", drift.track.name ? Json(drift.track.name->number) : Json(nullptr)},
            {"points", points},
            {"steps", to_array(drift.steps)},
            {"since_last", drift.since_last ? to_json(*drift.since_last) : Json(nullptr)},
            {"since_beginning", drift.since_beginning ? to_json(*drift.since_beginning) : Json(nullptr)},
            {"forecast", forecast ? forecast_json(*forecast) : Json(nullptr)}};
}

void print_json(const ledger::PlateHistory& history, const trends::Drift& drift, const Forecasts& forecasts,
                const std::vector<std::string>& remarks) {
    Json sessions = Json::array(), tracks = Json::array();
    for (std::size_t i = 0; i < history.sessions.size(); ++i) {
        Json session = to_json(history.sessions[i].session);
        session["ratio_5_to_2"] = or_null(drift.ratio_5_to_2[i]);
        session["moisture_pct"] = or_null(drift.moisture_pct[i]);
        sessions.push_back(session);
    }
    for (std::size_t i = 0; i < drift.tracks.size(); ++i)
        tracks.push_back(track_json(drift.tracks[i], forecasts[i]));
    print({{"schema", "platewright.drift/1"},
           {"plate", {{"id", history.plate.id}, {"label", history.plate.label}, {"instrument", history.instrument.label}}},
           {"sessions", sessions},
           {"tracks", tracks},
           {"remarks", remarks}},
          true);
}

std::string number_or_dash(const std::optional<double>& value, int decimals) {
    return value ? base::fixed(*value, decimals) : "–";
}

std::string sessions_table(const ledger::PlateHistory& history, const trends::Drift& drift) {
    std::vector<std::string> head{"session", "stage", "g", "°C", "% RH"};
    for (const trends::TrackDrift& track : drift.tracks)
        if (track.track.name)
            head.push_back(modes::mode_text(track.track.name->number));
    head.push_back("5 to 2");
    Table table(head);
    for (std::size_t i = 0; i < history.sessions.size(); ++i) {
        const ledger::SessionRecord& session = history.sessions[i].session;
        std::vector<std::string> row{base::local_date(session.begun), std::string(modes::to_text(session.stage)),
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
        row.push_back(number_or_dash(drift.ratio_5_to_2[i], 2));
        table.row(std::move(row));
    }
    return table.text();
}

std::string change_text(const trends::Change& change) {
    return base::signed_fixed(change.hz, 1) + " ± " + base::fixed(2 * change.hz_sd, 1);
}

std::string changes_table(const trends::Drift& drift, const Forecasts& forecasts) {
    Table table({"mode", "since last, Hz (95 %)", "cents", "since first, Hz (95 %)", "Hz per g", "after the next 1 g, Hz (80 %)"});
    for (std::size_t i = 0; i < drift.tracks.size(); ++i) {
        const trends::TrackDrift& d = drift.tracks[i];
        if (!d.track.name || !d.since_beginning)
            continue;
        std::string ahead = "–", slope = "–";
        if (const auto& f = forecasts[i]) {
            const trends::Interval next = trends::hz_at(*f, f->mass_g - 1);
            ahead = fmt::format("{} ({} to {})", base::fixed(next.value, 1), base::fixed(next.low, 1), base::fixed(next.high, 1));
            slope = fmt::format("{} ± {}", base::fixed(f->hz_per_g, 2), base::fixed(f->hz_per_g_sd, 2));
        }
        table.row({modes::mode_text(d.track.name->number),
                   d.since_last ? change_text(*d.since_last) : "–",
                   d.since_last ? base::signed_fixed(d.since_last->cents, 0) : "–",
                   change_text(*d.since_beginning), slope, ahead});
    }
    return table.empty() ? "" : table.text();
}

ExitCode drift(const Options& options, const Common& common) {
    const auto across = options.across == "mass"  ? plot::DriftAgainst::mass
                        : options.across == "day" ? plot::DriftAgainst::day
                                                  : plot::DriftAgainst::session;
    const auto store = open_to_read(common.ledger_folder());
    const auto plate = store ? find_plate(*store, options.plate) : base::Result<ledger::PlateRecord>(store.fault());
    if (!plate) {
        complain(plate.fault().what);
        return k_nothing_found;
    }
    const ledger::PlateHistory history = store->history(plate->id).value();
    const trends::Drift drift = trends::drift(history);
    Forecasts forecasts;
    for (const trends::TrackDrift& track : drift.tracks)
        forecasts.push_back(trends::forecast(track.track, history));
    const std::vector<std::string> remarks = trends::remarks(history, drift, forecasts);
    if (common.json) {
        print_json(history, drift, forecasts, remarks);
    } else {
        say(fmt::format("{} ({}), {} sessions", history.plate.label, history.instrument.label, history.sessions.size()));
        say(sessions_table(history, drift));
        const std::string changes = changes_table(drift, forecasts);
        if (!changes.empty())
            say("\n" + changes + "\n  A forecast rests on the sessions so far, not on where the wood comes off. Wood taken off "
                          "can't be put\n  back: go in small steps, and tap again.");
        for (const std::string& remark : remarks)
            say("  " + remark);
    }
    if (!options.chart.empty()) {
        plot::DriftPicture picture = screen::drift_picture(history, drift, forecasts, nullptr);
        picture.against = across;
        report::write_chart(plot::drift_chart(picture, plot::paper_palette()), options.chart,
                            *report::picture_kind(options.chart));
        if (!common.json)
            say(fmt::format("The drift chart is in {}", options.chart.string()));
    }
    return history.sessions.empty() ? k_nothing_found : k_done;
}

} // namespace

void add_drift(CLI::App& app, Common& common, Chosen& chosen) {
    auto* command = app.add_subcommand("drift", "How a plate's modes moved through its sessions, and the forecast");
    command->footer("  platewright drift \"Wren back\"\n"
                    "  platewright drift \"Wren back\" --chart wren.pdf --across mass");
    auto options = std::make_shared<Options>();
    command->add_option("PLATE", options->plate, "The plate, by name or number")->required();
    add_chart(*command, options->chart, "Draw the chart");
    command->add_option("--across", options->across, "The chart's axis: session, mass or day")
        ->check(CLI::IsMember({"session", "mass", "day"}))->capture_default_str();
    add_ledger(*command, common);
    add_json(*command, common);
    command->callback([&chosen, &common, options] { chosen = [&common, options] { return drift(*options, common); }; });
}

} // namespace platewright::cli
