#include "report/page/page.hpp"

#include "base/clock.hpp"
#include "base/failure.hpp"
#include "base/interval.hpp"
#include "report/page/page_head_file.hpp"
#include "report/page/page_parts.hpp"
#include "report/page/page_sound.hpp"
#include "report/sheet/sheet_parts.hpp"
#include "trends/drift/repeatability.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <fstream>

namespace platewright::report {
namespace {

using wording::figure;
using wording::say;
using wording::say_count;

/// A session with the part it belongs to, so that all can stand in the order of their days.
struct Visit {
    const PlateSheet* part = nullptr;
    std::size_t at = 0; ///< of its sessions
    const ledger::SessionHistory& session() const { return part->history.sessions[at]; }
};

std::vector<Visit> visits_of(const InstrumentSheet& sheet) {
    std::vector<Visit> visits;
    for (const PlateSheet& part : sheet.plates)
        for (std::size_t i = 0; i < part.history.sessions.size(); ++i)
            visits.push_back({&part, i});
    std::ranges::stable_sort(visits, {}, [](const Visit& v) { return v.session().session.begun; });
    return visits;
}

/// One part's making in a line.
std::string in_short(const PlateSheet& sheet) {
    const auto& sessions = sheet.history.sessions;
    std::string words =
        say_count(static_cast<std::int64_t>(sessions.size()), "{} session of {}, {} to {}",
                  "{} sessions of {}, {} to {}", sheet.history.plate.label,
                  base::local_date(sessions.front().session.begun),
                  base::local_date(sessions.back().session.begun));
    std::vector<double> masses;
    for (const ledger::SessionHistory& one : sessions)
        if (one.session.mass_g)
            masses.push_back(*one.session.mass_g);
    if (masses.size() > 1)
        words += "; " + say("{} to {} g", figure(masses.front(), 1), figure(masses.back(), 1));
    for (const int number : trends::steered_by(sheet.history.plate.part)) {
        const ledger::ModeRecord* first = nullptr;
        const ledger::ModeRecord* last = nullptr;
        for (const ledger::SessionHistory& one : sessions)
            if (const ledger::ModeRecord* mode = trends::find_mode(one.modes, number)) {
                first = first == nullptr ? mode : first;
                last = mode;
            }
        if (last != nullptr && last != first)
            words +=
                "; " + say("{} from {} to {} Hz", modes::mode_text(number),
                           figure(first->mode.frequency_hz, 0), figure(last->mode.frequency_hz, 0));
        else if (last != nullptr)
            words += "; " +
                     say("{}: {} Hz", modes::mode_text(number), figure(last->mode.frequency_hz, 0));
    }
    return words + ".";
}

std::string air_words(const ledger::SessionRecord& session) {
    std::string words;
    const auto join = [&words](const std::string& more) {
        words += (words.empty() ? "" : " · ") + more;
    };
    if (session.mass_g)
        join(say("{} g", figure(*session.mass_g, 1)));
    if (session.temperature_c)
        join(figure(*session.temperature_c, 1) + " " + std::string(say("°C")));
    if (session.humidity_pct)
        join(figure(*session.humidity_pct, 0) + " " + std::string(say("% RH")));
    return words;
}

void put_modes(Markup& markup, const Visit& visit) {
    markup.open("p", {{"class", "modes"}});
    for (const int number : trends::steered_by(visit.part->history.plate.part)) {
        const ledger::ModeRecord* mode = trends::find_mode(visit.session().modes, number);
        if (mode == nullptr)
            continue;
        markup.open("span").text(modes::mode_text(number) + " ");
        markup.said("b", figure(mode->mode.frequency_hz, 1)).text(" " + std::string(say("Hz")));
        const trends::TrackDrift* drift = trends::find_track(visit.part->drift, number);
        const trends::Change* step =
            drift == nullptr ? nullptr : trends::step_into(*drift, visit.at);
        if (step != nullptr &&
            trends::find_mode(visit.part->history.sessions[visit.at - 1].modes, number) != nullptr)
            markup.said("small",
                        fmt::format(" ({})", wording::signed_with_range(step->hz, step->hz_sd, 1)),
                        {{"class", "faint"}});
        markup.close("span");
    }
    markup.close("p");
}

void put_taps(Markup& markup, const RecordPage& page, ledger::Id session) {
    for (const PageTap& tap : page.taps) {
        const std::string address =
            tap.session == session ? sound_address(tap.sound) : std::string();
        if (address.empty())
            continue;
        const std::string where = tap.spot == taps::Spot::unknown
                                      ? say("A tap")
                                      : say("A tap, {}", taps::to_text(tap.spot));
        markup.open("div", {{"class", "tap"}}).said("span", where);
        markup.open(
            "audio",
            {{"controls", ""}, {"preload", "none"}, {"src", address}, {"aria-label", where}});
        markup.close("audio").close("div");
    }
}

void put_note(Markup& markup, const RecordPage& page, const std::string& note) {
    if (page.with_notes && !note.empty())
        markup.said("p", note, {{"class", "note"}});
}

void put_visits(Markup& markup, const RecordPage& page, const std::vector<Visit>& visits) {
    markup.said("h2", say("From the first session to the last"), {{"id", "sessions"}});
    for (const Visit& visit : visits) {
        const ledger::SessionRecord& session = visit.session().session;
        markup.open("section", {{"class", "card"}, {"id", session_anchor(session.id)}});
        markup.said("h3",
                    fmt::format("{} · {} · {}", base::local_date(session.begun),
                                visit.part->history.plate.label, modes::to_text(session.stage)));
        markup.said("p", air_words(session), {{"class", "faint"}});
        put_modes(markup, visit);
        put_note(markup, page, session.notes);
        put_taps(markup, page, session.id);
        markup.close("section");
    }
}

FlowTable last_modes(const PlateSheet& sheet) {
    FlowTable table =
        table_of({Column{"mode"}, Column{"Hz", 1.0, true}, Column{"± (95 %)", 1.0, true},
                  Column{"Q", 1.0, true}, Column{"taps", 1.0, true}});
    const auto& sessions = sheet.history.sessions;
    const auto found = std::find_if(sessions.rbegin(), sessions.rend(),
                                    [](const auto& s) { return !s.modes.empty(); });
    if (found != sessions.rend())
        for (const ledger::ModeRecord& record : found->modes)
            table.rows.push_back({record.name ? modes::mode_text(record.name->number) : k_none,
                                  figure(record.mode.frequency_hz, 1),
                                  figure(base::plus_minus(trends::session_sd_hz(record.mode)), 1),
                                  figure(record.mode.q, 0), std::to_string(record.mode.taps)});
    return table;
}

std::string part_anchor(const PlateSheet& sheet) {
    return fmt::format("part-{}", sheet.history.plate.id);
}

void put_figure(Markup& markup, const std::string& drawing, std::string_view caption,
                const char* kind) {
    if (drawing.empty())
        return;
    markup.open("figure", {{"class", kind}})
        .raw(drawing)
        .said("figcaption", caption)
        .close("figure");
}

void put_part(Markup& markup, const RecordPage& page, const PlateSheet& sheet) {
    const ledger::PlateHistory& history = sheet.history;
    markup.said("h2", history.plate.label, {{"id", part_anchor(sheet)}});
    FlowTable facts;
    for (const auto& [label, value] : facts_of(history))
        facts.rows.push_back({label, value});
    put_table(markup, facts);
    put_note(markup, page, history.plate.notes);
    if (history.sessions.empty())
        return;
    put_figure(markup, drift_figure(sheet, part_anchor(sheet) + "-drift"),
               say("How each mode moved from session to session. Point at a mark to read it; it "
                   "leads to its session."),
               "drift");
    markup.open("div", {{"class", "beside"}});
    put_figure(markup, map_figure(sheet, part_anchor(sheet) + "-map"),
               say("Thickness in mm, seen from outside. Point at a mark to read what the caliper "
                   "said there."),
               "map");
    if (const FlowTable modes = last_modes(sheet); !modes.rows.empty()) {
        markup.open("div").said("h3", say("All modes of the last session"));
        put_table(markup, modes);
        markup.close("div");
    }
    markup.close("div");
}

} // namespace

std::string record_page(const RecordPage& page, base::Timestamp written) {
    const InstrumentSheet& sheet = page.sheet;
    const std::vector<Visit> visits = visits_of(sheet);
    Markup markup;
    put_head(markup, fmt::format("{}: {}", sheet.instrument.label, say("Record of making")));
    markup.open("body").open("header");
    markup.said(
        "p", fmt::format("{} · {}", say("Record of making"), modes::to_text(sheet.instrument.kind)),
        {{"class", "faint"}});
    markup.said("h1", sheet.instrument.label);
    put_note(markup, page, sheet.instrument.notes);
    markup.open("nav").said("a", say("Sessions"), {{"href", "#sessions"}});
    for (const PlateSheet& part : sheet.plates)
        markup.said("a", part.history.plate.label, {{"href", "#" + part_anchor(part)}});
    markup.close("nav").close("header").open("main");
    for (const PlateSheet& part : sheet.plates)
        if (!part.history.sessions.empty())
            markup.said("p", in_short(part));
    if (visits.empty())
        markup.said("p", say("No session has been kept yet."));
    else
        put_visits(markup, page, visits);
    for (const PlateSheet& part : sheet.plates)
        put_part(markup, page, part);
    markup.close("main").open("footer");
    markup.said("p",
                say("Frequencies in Hz, each with an interval that holds it with 95 %; in brackets "
                    "the change since the "
                    "session before. The taps are as the microphone heard them, made equally loud. "
                    "Frequencies promise no tone."),
                {{"class", "faint"}});
    markup.said("p", say("Written {} by Platewright {}.", base::local_date(written), page.version),
                {{"class", "faint"}});
    markup.close("footer").said("div", "", {{"id", "pointed"}, {"role", "status"}});
    put_script(markup);
    markup.close("body").close("html");
    return markup.str();
}

void write_page(const RecordPage& page, const std::filesystem::path& file,
                base::Timestamp written) {
    const std::string text = record_page(page, written);
    std::filesystem::path beside = file;
    beside += ".new";
    std::ofstream out(beside, std::ios::binary | std::ios::trunc);
    out << text;
    out.close();
    std::error_code error;
    if (out)
        std::filesystem::rename(beside, file, error);
    if (out && !error)
        return;
    std::error_code ignored;
    std::filesystem::remove(beside, ignored);
    throw base::Failure(say("“{}” could not be written. Check the folder and the free space; what "
                            "stood there before is as "
                            "it was.",
                            file.string()));
}

} // namespace platewright::report
