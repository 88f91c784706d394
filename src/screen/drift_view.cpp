#include "screen/drift_view.hpp"

#include "base/interval.hpp"
#include "base/text.hpp"
#include "screen/air_remark.hpp"
#include "screen/decision_strip.hpp"
#include "screen/parts.hpp"
#include "screen/pictures.hpp"
#include "screen/stack.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <tuple>

namespace platewright::screen {
namespace {
using plot::Box;
using plot::DriftAgainst;
using plot::DriftIn;
using plot::Weight;

std::string change_text(const std::optional<trends::Change>& change) {
    return change ? say("{} \u00b1 {} Hz, {} cents", signed_figure(change->hz, 1),
                        figure(base::plus_minus(change->hz_sd), 1), signed_figure(change->cents, 0))
                  : std::string("\u2013");
}

/// What is likely to be tapped after one gram less, with its interval.
std::string next_gram(const trends::Forecast& forecast) {
    const trends::Interval then = trends::hz_at(forecast, forecast.mass_g - 1.0);
    return say("{} Hz ({} to {})", figure(then.value, 1), figure(then.low, 1),
               figure(then.high, 1));
}

/// The sentences beside the drift; those without room are counted, none is dropped unsaid.
void remarks(const Sight& sight, Box& box) {
    const double scale = sight.look.scale;
    ImguiCanvas canvas = sight.canvas();
    const std::vector<std::string>& all = sight.now.plate->remarks;
    const double counted = 24.0 * scale; // for the line that counts the rest
    for (std::size_t i = 0; i < all.size(); ++i) {
        take_top(box, 8.0 * scale);
        const double needed = paragraph_height(canvas, all[i], box.width(), k_small * scale);
        const double owed = i + 1 < all.size() ? counted : 0.0;
        if (needed + owed > box.height()) {
            box.top += paragraph(canvas,
                                 say_count(std::ssize(all) - static_cast<std::ptrdiff_t>(i),
                                           "and {} more remark: a higher window shows it.",
                                           "and {} more remarks: a higher window shows them."),
                                 box, k_small * scale, sight.palette().faint_ink);
            return;
        }
        paragraph(canvas, all[i], box, k_small * scale, sight.palette().ink);
        take_top(box, needed);
    }
}

} // namespace

void DriftView::draw(const Sight& sight, Box area) {
    const double scale = sight.look.scale;
    if (!sight.now.plate || sight.now.plate->history.sessions.empty()) {
        invite_to_plates(
            sight, area, say("Nothing to follow yet"),
            say("The drift of a plate shows once it has been tapped in two sessions or "
                "more. Put a plate on the bench and tap it."));
        return;
    }
    Box head = next_band(sight, area, 44.0 * scale, 92.0 * scale);
    choices(sight, sight.stacks ? head : take_left(head, 760.0 * scale));
    if (sight.now.plate->in_air) {
        const std::string remark = air_remark(sight);
        const double height =
            paragraph_height(sight.canvas(), remark, area.width() - 18.0 * scale, k_small * scale);
        in_one_air(sight, next_band(sight, area, 44.0 * scale, height + 10.0 * scale), remark);
    }
    if (sight.stacks) {
        const plot::Frame frame =
            chart(sight, next_column(sight, area, 0.0, (k_stacked_chart + 40.0) * scale));
        pointer(sight, frame, next_column(sight, area, 0.0, 42.0 * scale));
        figures(sight, next_column(sight, area, 0.0));
        return;
    }
    figures(sight, take_right(area, 330.0 * scale));
    take_right(area, 10.0 * scale);
    pointer(sight, chart(sight, area), head);
}

void DriftView::choices(const Sight& sight, Box box) {
    const std::array against{std::pair{DriftAgainst::session, say("by session")},
                             std::pair{DriftAgainst::mass, say("by mass")},
                             std::pair{DriftAgainst::day, say("by day")}};
    const std::array in{std::pair{DriftIn::hertz, say("in Hz")},
                        std::pair{DriftIn::cents, say("in cents")}};
    const double scale = sight.look.scale;
    Box upper = sight.stacks ? take_top(box, 44.0 * scale) : take_left(box, 384.0 * scale);
    DriftAgainst chosen =
        choose_one(sight, take_left(upper, 420.0 * scale), against, picture_.against);
    sight.stacks ? take_top(box, 4.0 * scale) : take_left(box, 16.0 * scale);
    DriftIn unit = choose_one(sight, take_left(box, 220.0 * scale), in, picture_.in);
    if (sight.keys.take(U'a')) {
        chosen = static_cast<DriftAgainst>((static_cast<int>(picture_.against) + 1) % 3);
    }
    if (sight.keys.take(U'c')) {
        unit = picture_.in == DriftIn::hertz ? DriftIn::cents : DriftIn::hertz;
    }
    if (chosen != picture_.against || unit != picture_.in) {
        picture_.against = chosen;
        picture_.in = unit;
    }
    take_left(box, 16.0 * scale);
    ImguiCanvas canvas = sight.canvas();
    const double middle = 0.5 * (box.top + box.bottom);
    double x = box.left + key_cap(canvas, sight.look, {box.left, middle}, "A", sight.palette().ink);
    x += 6.0 * scale;
    x += key_cap(canvas, sight.look, {x, middle}, "C", sight.palette().ink);
    line(canvas, say("change"), {x + 8.0 * scale, box.top, box.right, box.bottom},
         {.colour = sight.palette().faint_ink, .height = k_small * scale});
}

/// All sessions in one air, or each as it was.
void DriftView::air_switch(const Sight& sight, const Box& box) const {
    const bool on = sight.now.in_air;
    if (press(sight, say("in one air"), box, "K", on ? Stress::chosen : Stress::plain) ||
        sight.keys.take(U'k')) {
        sight.send(bench::command::SetAir{sight.now.air, !on});
    }
}

/// What is set over, and how unsure that makes it; nothing of it is hidden from who sees the
/// figures.
void DriftView::in_one_air(const Sight& sight, const Box& box, std::string_view remark) const {
    const double scale = sight.look.scale;
    const plot::Palette& p = sight.palette();
    ImguiCanvas canvas = sight.canvas();
    sheet(canvas, sight.look, box, p.caution);
    const Box inside = inset(box, 5.0 * scale);
    paragraph(canvas, remark, {inside.left + 8.0 * scale, inside.top, inside.right, inside.bottom},
              k_small * scale, p.on_caution);
}

plot::Frame DriftView::chart(const Sight& sight, Box box) {
    const auto plate = sight.now.plate;
    const double scale = sight.look.scale;
    ImguiCanvas canvas = sight.canvas();
    sheet(canvas, sight.look, box);
    box = inset(box, 14.0 * scale);
    const ChartPane::Subject subject{
        plate, 2 * static_cast<int>(picture_.against) + static_cast<int>(picture_.in),
        [&](const plot::Palette& palette) {
            const auto chosen = std::pair(picture_.against, picture_.in);
            picture_ = drift_picture(plate->trend_history(), plate->drift, plate->forecasts,
                                     plate->comparison ? &*plate->comparison : nullptr);
            std::tie(picture_.against, picture_.in) = chosen;
            return plot::drift_chart(picture_, palette);
        },
        "drift"};
    Box tools = take_bottom(box, 36.0 * scale);
    air_switch(sight, take_right(tools, 170.0 * scale));
    take_right(tools, 8.0 * scale);
    pane_.tools(sight, subject, tools);
    take_bottom(box, 4.0 * scale);
    return pane_.draw(sight, subject, box, k_body * scale, ChartPane::Zooms::both);
}

/// The session under the pointer, said beside the choices so that it hides nothing; a click opens
/// it.
void DriftView::pointer(const Sight& sight, const plot::Frame& frame, const Box& words_box) const {
    const auto& sessions = sight.now.plate->history.sessions;
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
    const ledger::SessionHistory& session = sessions[*nearest];
    const double scale = sight.look.scale;
    const plot::Palette& p = sight.palette();
    ImguiCanvas canvas = sight.canvas();
    const double x = frame.across.place(*plot::drift_across(picture_, *nearest));
    canvas.box({x - scale, frame.inside.top, x + scale, frame.inside.bottom}, p.accent.faded(0.6),
               0.0);
    std::string words = base::local_date(session.session.begun);
    if (session.session.mass_g) {
        words += ", " + figure(*session.session.mass_g, 1) + " g";
        const auto& over = sight.now.plate->in_air;
        if (over && over->sessions[*nearest] && over->sessions[*nearest]->mass_g) {
            words +=
                " (" + say("in one air {} g", figure(*over->sessions[*nearest]->mass_g, 1)) + ")";
        }
    }
    words += ", " + say_count(std::ssize(session.taps), "{} tap", "{} taps") + ". " +
             std::string(say("A click opens it."));
    if (sight.stacks) {
        paragraph(canvas, words, words_box, k_small * scale, p.ink);
    } else {
        words += session.session.notes.empty() ? "" : " " + session.session.notes;
        line(canvas, words, words_box, {.colour = p.ink, .height = k_body * scale});
    }
    if (pane_.clicked()) {
        sight.session_shown = session.session.id;
        sight.place = Place::session;
    }
}

void DriftView::figures(const Sight& sight, Box box) const {
    const bench::PlateView& plate = *sight.now.plate;
    const plot::Palette& p = sight.palette();
    const double scale = sight.look.scale;
    ImguiCanvas canvas = sight.canvas();
    const Growing ground(sight, "figures", box);
    box = inset(box, 14.0 * scale);
    box.top += draw_decision(sight, box) + 10.0 * scale; // what is to be done comes first
    bool forecast_shown = false;
    for (std::size_t i = 0; i < plate.drift.tracks.size(); ++i) {
        const trends::TrackDrift& track = plate.drift.tracks[i];
        if (!track.track.name || track.track.points.empty() || box.height() < 150.0 * scale) {
            continue;
        }
        const plot::ModeLook look = plot::mode_look(track.track.name->number, p);
        Box head = take_top(box, 30.0 * scale);
        const Box sign = take_left(head, 26.0 * scale);
        canvas.mark({sign.left + 9.0 * scale, 0.5 * (sign.top + sign.bottom)}, look.shape,
                    16.0 * scale, look.colour);
        line(canvas, figure(track.track.points.back().value.frequency_hz, 1) + " Hz",
             take_right(head, 110.0 * scale),
             {.colour = p.ink,
              .height = k_lead * scale,
              .across = plot::Across::right,
              .weight = Weight::bold});
        line(canvas, modes::mode_text(track.track.name->number), head,
             {.colour = look.colour, .height = k_lead * scale, .weight = Weight::bold});
        const auto fact = [&](std::string_view what, const std::string& value) {
            Box fact_line = take_top(box, 23.0 * scale);
            line(canvas, what, take_left(fact_line, 112.0 * scale),
                 {.colour = p.faint_ink, .height = k_body * scale});
            line(canvas, value, fact_line, {.colour = p.ink, .height = k_body * scale});
        };
        fact(say("since last"), change_text(track.since_last));
        fact(say("since first"), change_text(track.since_beginning));
        if (i < plate.forecasts.size() && plate.forecasts[i]) {
            fact(say("1 g less"), next_gram(*plate.forecasts[i]));
            forecast_shown = true;
        }
        take_top(box, 12.0 * scale);
    }
    if (forecast_shown) {
        box.top += paragraph(canvas,
                             say("Wood taken off can't be put back. Ranges of 95 %; small steps; "
                                 "hands behind the edge; no dust in your lungs."),
                             box, k_small * scale, p.faint_ink);
    } else if (sight.now.plate->history.plate.part !=
               modes::Part::body) { // whose modes don't go by its mass
        box.top += paragraph(canvas,
                             say("A forecast for the next gram appears after three weighed "
                                 "sessions of this plate."),
                             box, k_body * scale, p.faint_ink);
    }
    remarks(sight, box);
    ground.reached(box.top + 14.0 * scale);
}

} // namespace platewright::screen
