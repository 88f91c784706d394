#include "screen/plates/drift_view.hpp"

#include "base/interval.hpp"
#include "base/text.hpp"
#include "screen/bench/decision_strip.hpp"
#include "screen/draw/chart_pane.hpp"
#include "screen/draw/parts.hpp"
#include "screen/draw/pictures.hpp"
#include "screen/fields/stack.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

namespace platewright::screen {
namespace {

/// The mode that makers steer by, of those that bear a name: 5, else the first.
std::optional<int> steered_by(const bench::PlateView& plate) {
    std::optional<int> first;
    for (const trends::TrackDrift& drift : plate.drift.tracks) {
        if (drift.track.name && (!first || drift.track.name->number == 5)) {
            first = drift.track.name->number;
        }
    }
    return first;
}

/// The most that setting over adds to this mode's deviation in any session.
double set_over_sd_hz(const bench::PlateView& plate, int number) {
    double most = 0.0;
    if (const trends::TrackDrift* drift = trends::find_track(plate.drift, number)) {
        for (const trends::TrackPoint& point : drift->track.points) {
            const auto sd_in = [&](const ledger::PlateHistory& history) {
                return history.sessions[point.session].modes[point.mode].mode.frequency_sd_hz;
            };
            const double before = sd_in(plate.history), after = sd_in(plate.in_air->history);
            most = std::max(most, std::sqrt(std::max(0.0, after * after - before * before)));
        }
    }
    return most;
}
double set_over_sd_g(const trends::HistoryInAir& in_air) {
    double most = 0.0;
    for (const auto& session : in_air.sessions) {
        most = std::max(most, session && session->mass_sd_g ? *session->mass_sd_g : 0.0);
    }
    return most;
}

} // namespace

std::string air_remark(const ViewContext& context) {
    const bench::PlateView& plate = *context.now.plate;
    const auto unknown =
        std::ranges::count_if(plate.in_air->sessions, [](const auto& session) { return !session; });
    const std::string air = air_words(context.now.air);
    const std::string grams = figure(base::plus_minus(set_over_sd_g(*plate.in_air)), 1);
    const std::optional<int> number = steered_by(plate);
    std::string words =
        number
            ? say("As if at {}: set over, not measured; by that alone {} ± {} Hz, the mass ± {} g.",
                  air, modes::mode_text(*number),
                  figure(base::plus_minus(set_over_sd_hz(plate, *number)), 1), grams)
            : say("As if at {}: set over, not measured; by that alone the mass ± {} g.", air,
                  grams);
    if (unknown > 0) {
        words += " " + say_count(unknown, "{} session without its air stays as measured.",
                                 "{} sessions without their air stay as measured.");
    }
    return words;
}

namespace {
using plot::Box;
using plot::DriftAgainst;
using plot::DriftIn;
using plot::Weight;

constexpr double k_least_strips = 480.0; // height, with what stands below them

/// What the pointer reads of a session: its day, mass and air, and every mode that bears a name.
std::vector<std::string> read_out_of(const bench::PlateView& plate,
                                     const plot::DriftPicture& picture, std::size_t index) {
    const ledger::SessionHistory& session = plate.history.sessions[index];
    std::string head = base::local_date(session.session.begun);
    if (session.session.mass_g) {
        head += ", " + figure(*session.session.mass_g, 1) + " g";
        const auto& over = plate.in_air;
        if (over && over->sessions[index] && over->sessions[index]->mass_g) {
            head += " (" + say("set over {} g", figure(*over->sessions[index]->mass_g, 1)) + ")";
        }
    }
    if (session.session.humidity_pct) {
        head +=
            ", " + figure(*session.session.humidity_pct, 0) + " " + std::string(say("% humidity"));
    }
    std::vector<std::string> lines{head};
    for (const plot::DriftTrack& track : picture.tracks) {
        for (const plot::DriftPoint& point : track.points) {
            if (track.name != 0 && point.session == index) {
                lines.push_back(track.words + ": " + figure(point.frequency_hz, 1) + " \u00b1 " +
                                figure(point.doubt_hz, 1) + " Hz");
            }
        }
    }
    lines.push_back(say_count(std::ssize(session.taps), "{} tap", "{} taps") + ". " +
                    std::string(say("A click opens it.")));
    if (!session.session.notes.empty()) {
        lines.push_back(session.session.notes);
    }
    return lines;
}

/// What has to be said below the drift: the caution of whatever forecasts, then the remarks.
std::vector<std::string> sentences(const bench::PlateView& plate) {
    std::vector<std::string> all;
    const bool ahead = trends::has_forecast(plate.drift);
    if (ahead) {
        all.emplace_back(say("Wood taken off can't be put back. Ranges of 95 %; small steps; hands "
                             "behind the edge; no dust in your lungs."));
    } else if (plate.history.plate.part != modes::Part::body) { // whose modes don't go by its mass
        all.emplace_back(say(
            "A forecast for the next gram appears after three weighed sessions of this plate."));
    }
    all.insert(all.end(), plate.remarks.begin(), plate.remarks.end());
    return all;
}

double remarks_height(const ViewContext& context, double width) {
    const double scale = context.look.scale;
    const ImguiCanvas canvas = context.canvas();
    double height = 4.0 * scale;
    for (const std::string& words : sentences(*context.now.plate)) {
        height += paragraph_height(canvas, words, width, k_small * scale) + 4.0 * scale;
    }
    return height;
}

/// Those without room are counted, none is dropped unsaid.
void remarks(const ViewContext& context, Box& box) {
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    const std::vector<std::string> all = sentences(*context.now.plate);
    const double counted = 22.0 * scale; // for the line that counts the rest
    for (std::size_t i = 0; i < all.size(); ++i) {
        take_top(box, 4.0 * scale);
        const double needed = paragraph_height(canvas, all[i], box.width(), k_small * scale);
        const double owed = i + 1 < all.size() ? counted : 0.0;
        if (needed + owed > box.height() + 0.5) {
            box.top += paragraph(canvas,
                                 say_count(std::ssize(all) - static_cast<std::ptrdiff_t>(i),
                                           "and {} more remark: a higher window shows it.",
                                           "and {} more remarks: a higher window shows them."),
                                 box, k_small * scale, context.palette().ink);
            return;
        }
        box.top += paragraph(canvas, all[i], box, k_small * scale, context.palette().ink);
    }
}

} // namespace

void DriftView::draw(const ViewContext& context, Box area, bool decides) {
    const double scale = context.look.scale;
    if (!context.now.plate || context.now.plate->history.sessions.empty()) {
        invite_to_plates(context, area, say("Nothing to follow yet"),
                         say("The drift of a plate shows once it has been tapped in two sessions "
                             "or more. Put a plate on the bench and tap it."));
        return;
    }
    choices(context, next_band(context, area, 44.0 * scale, 140.0 * scale));
    if (context.now.plate->in_air) {
        const std::string remark = air_remark(context);
        const double height = paragraph_height(context.canvas(), remark,
                                               area.width() - 18.0 * scale, k_small * scale);
        in_one_air(context, next_band(context, area, height + 10.0 * scale, height + 10.0 * scale),
                   remark);
    }
    if (decides) {
        decision(context, area);
    }
    if (context.stacks) {
        pointer(context,
                chart(context, next_column(context, area, 0.0, 2.4 * k_stacked_chart * scale)));
        Box said = next_column(context, area, 0.0);
        const Growing ground(context, "remarks", said);
        said = inset(said, 10.0 * scale);
        remarks(context, said);
        ground.reached(said.top + 10.0 * scale);
        return;
    }
    const double needed = remarks_height(context, area.width());
    Box said = take_bottom(area, std::min(needed, 0.24 * area.height()));
    pointer(context, chart(context, area));
    remarks(context, said);
}

/// As at the bench; where the strips need the room its reason is counted.
void DriftView::decision(const ViewContext& context, Box& area) {
    const double scale = context.look.scale, whole = decision_height(context, area.width());
    const bool reasoned = context.stacks || area.height() - whole >= k_least_strips * scale;
    const double height = reasoned ? whole : decision_height(context, area.width(), false);
    const Box box = next_band(context, area, height, height);
    draw_decision(context, box, reasoned);
    if (!reasoned && !decision_reason(context).empty()) {
        ImguiCanvas canvas = context.canvas();
        line(canvas, say("{} more", 1) + " (F1)",
             {box.left, box.bottom - 22.0 * scale, box.right - 8.0 * scale, box.bottom},
             {.colour = context.palette().ink,
              .height = k_small * scale,
              .across = plot::Across::right});
    }
}

void DriftView::choices(const ViewContext& context, Box box) {
    const std::array against{std::pair{DriftAgainst::session, say("by session")},
                             std::pair{DriftAgainst::mass, say("by mass")},
                             std::pair{DriftAgainst::day, say("by day")}};
    const std::array in{std::pair{DriftIn::hertz, say("in Hz")},
                        std::pair{DriftIn::cents, say("in cents")}};
    const double scale = context.look.scale, gap = 12.0 * scale;
    const double row = 44.0 * scale;
    const auto part = [&](double width) {
        if (!context.stacks) {
            const Box taken = take_left(box, width * scale);
            take_left(box, gap);
            return taken;
        }
        const Box taken = take_top(box, row);
        take_top(box, 4.0 * scale);
        return taken;
    };
    DriftAgainst chosen = choose_one(context, part(350.0), against, picture_.against);
    in_ = choose_one(context, part(190.0), in, in_);
    if (press(context, say("all modes"), part(170.0), "O",
              all_modes_ ? Stress::chosen : Stress::plain) ||
        context.keys.take(U'o')) {
        all_modes_ = !all_modes_;
    }
    if (context.keys.take(U'a')) {
        chosen = static_cast<DriftAgainst>((static_cast<int>(picture_.against) + 1) % 3);
    }
    if (context.keys.take(U'c')) {
        in_ = in_ == DriftIn::hertz ? DriftIn::cents : DriftIn::hertz;
    }
    if (chosen != picture_.against) {
        against_ = chosen;
    }
    if (context.stacks || box.width() < 140.0 * scale) {
        return; // the keys do it all the same
    }
    ImguiCanvas canvas = context.canvas();
    const double middle = 0.5 * (box.top + box.bottom);
    double x =
        box.left + key_cap(canvas, context.look, {box.left, middle}, "A", context.palette().ink);
    x += 6.0 * scale;
    x += key_cap(canvas, context.look, {x, middle}, "C", context.palette().ink);
    line(canvas, say("change"), {x + 8.0 * scale, box.top, box.right, box.bottom},
         {.colour = context.palette().faint_ink, .height = k_small * scale});
}

/// All sessions in one air, or each as it was.
void DriftView::air_switch(const ViewContext& context, const Box& box) const {
    const bool on = context.now.in_air;
    const std::string air = say("as if at {} °C, {} %", figure(context.now.air.temperature_c, 0),
                                figure(context.now.air.humidity_pct, 0));
    if (press(context, air, box, "K", on ? Stress::chosen : Stress::plain) ||
        context.keys.take(U'k')) {
        context.send(bench::command::SetAir{context.now.air, !on});
    }
}

/// What is set over, and how unsure that makes it; nothing of it is hidden from who sees the
/// figures.
void DriftView::in_one_air(const ViewContext& context, const Box& box,
                           std::string_view remark) const {
    const double scale = context.look.scale;
    const plot::Palette& p = context.palette();
    ImguiCanvas canvas = context.canvas();
    sheet(canvas, context.look, box, p.caution);
    const Box inside = inset(box, 5.0 * scale);
    paragraph(canvas, remark, {inside.left + 8.0 * scale, inside.top, inside.right, inside.bottom},
              k_small * scale, p.on_caution);
}

plot::Frame DriftView::chart(const ViewContext& context, Box box) {
    const auto plate = context.now.plate;
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    canvas.box(box, context.palette().panel, 0.0);
    box = inset(box, 8.0 * scale);
    const auto make = [&] {
        plot::DriftPicture picture = drift_picture(
            plate->trend_history(), *plate, plate->comparison ? &*plate->comparison : nullptr);
        picture.against = against_.value_or(picture.against);
        picture.in = in_;
        picture.all_modes = all_modes_;
        return picture;
    };
    const int variant = (against_ ? 1 + static_cast<int>(*against_) : 0) +
                        4 * static_cast<int>(in_) + 8 * static_cast<int>(all_modes_);
    const ChartPane::Subject subject{plate, variant,
                                     [&](const plot::Palette& palette) {
                                         picture_ = make();
                                         return plot::drift_chart(picture_, palette);
                                     },
                                     "drift"};
    Box tools = take_bottom(box, 36.0 * scale);
    air_switch(context, take_right(tools, 236.0 * scale));
    take_right(tools, 8.0 * scale);
    pane_.tools(context, subject, tools);
    take_bottom(box, 4.0 * scale);
    return pane_.draw(context, subject, box, k_small * scale,
                      all_modes_ ? ChartPane::Zooms::both : ChartPane::Zooms::across);
}

/// The session under the pointer with all its modes, beside the pointer; a click opens it.
void DriftView::pointer(const ViewContext& context, const plot::Frame& frame) const {
    const auto& sessions = context.now.plate->history.sessions;
    const plot::Point at = point(ImGui::GetIO().MousePos);
    if (!points_at(frame.inside) || pane_.empty()) {
        return;
    }
    std::optional<std::size_t> nearest;
    double least = frame.inside.width();
    for (std::size_t i = 0; i < sessions.size(); ++i) {
        const auto across = plot::drift_across(picture_, i);
        const double away = across ? std::abs(frame.across.place(*across) - at.x) : least;
        if (away < least) {
            least = away;
            nearest = i;
        }
    }
    if (!nearest) {
        return;
    }
    const double scale = context.look.scale;
    const plot::Palette& p = context.palette();
    ImguiCanvas canvas = context.canvas();
    const double x = frame.across.place(*plot::drift_across(picture_, *nearest));
    canvas.box({x - scale, frame.inside.top, x + scale, frame.inside.bottom}, p.accent.faded(0.6),
               0.0);
    draw_read_out(canvas, context, read_out_of(*context.now.plate, picture_, *nearest), at,
                  frame.inside);
    if (pane_.clicked()) {
        context.session_shown = sessions[*nearest].session.id;
        context.place = Place::session;
    }
}

} // namespace platewright::screen
