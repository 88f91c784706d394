#include "screen/plates/session_view.hpp"

#include "base/angle.hpp"
#include "base/interval.hpp"
#include "base/level.hpp"
#include "plot/spectrum.hpp"
#include "screen/draw/chart_pane.hpp"
#include "screen/draw/parts.hpp"
#include "screen/draw/pictures.hpp"
#include "screen/fields/fields.hpp"

#include <algorithm>

namespace platewright::screen {
namespace {
using plot::Box;
using plot::Weight;

/// What is left of the ring's energy, in a word (ours, no source: a tenth is plain to see, a
/// thousandth is hardly more than the room).
std::string_view fit_words(double left_db) {
    return left_db <= -30.0   ? say("very good")
           : left_db <= -20.0 ? say("good")
           : left_db <= -10.0 ? say("fair")
                              : say("poor");
}

/// Index of the session that is looked into: the one asked for, else the one on the bench.
std::size_t shown_index(const ViewContext& context) {
    const auto& all = context.now.plate->history.sessions;
    const auto asked_for = index_of(all, context.session_shown);
    return asked_for ? *asked_for
                     : index_of(all, context.now.plate->session).value_or(all.size() - 1);
}

std::string session_words(const ViewContext& context, std::size_t index) {
    const auto& all = context.now.plate->history.sessions;
    const ledger::SessionRecord& session = all[index].session;
    std::string words = say("session {} of {}", index + 1, all.size()) + ", " +
                        base::local_date(session.begun) + ", " +
                        std::string(modes::to_text(session.stage));
    if (session.mass_g) {
        words += ", " + figure(*session.mass_g, 1) + " g";
    }
    return words;
}

/// "5: 352.8 Hz, −78.3 ± 0.2 dB, 87°, coherence 0.998".
std::string response_line(const bench::ForcedAnswer& answer,
                          const bench::ForcedAnswer::AtMode& mode) {
    const bool several = answer.strikes > 1; // one alone tells no doubt
    std::string words = mode.number != 0 ? std::to_string(mode.number) + ": " : std::string();
    words +=
        figure(mode.frequency_hz, 1) + " Hz, " + signed_figure(base::amplitude_to_db(mode.h1), 1);
    if (several) {
        const double most = base::amplitude_to_db(1.0 + base::plus_minus(mode.relative_sd));
        words += " \u00b1 " + figure(most, 1);
    }
    words += " dB, " + signed_figure(base::in_deg(mode.phase_rad), 0) + "\u00b0";
    return several ? words + ", " + say("coherence {}", figure(mode.coherence, 3)) : words;
}

std::string tap_line(const ledger::TapRecord& tap) {
    std::string words = say("peak {} dBFS", signed_figure(tap.peak_dbfs, 0));
    if (tap.spot != taps::Spot::unknown) {
        words += ", " + std::string(taps::to_text(tap.spot));
    }
    if (taps::counts(tap.verdict)) {
        words += ", " + say_count(std::ssize(tap.partials), "{} partial", "{} partials");
    }
    return words;
}

} // namespace

void SessionView::draw(const ViewContext& context, Box area) {
    if (!context.now.plate || context.now.plate->history.sessions.empty()) {
        invite_to_plates(context, area, say("No session to look into"),
                         say("Put a plate on the bench, begin a session and tap: its taps can then "
                             "be heard again here, and each be seen beside its fit."));
        return;
    }
    const double scale = context.look.scale;
    const std::size_t index = shown_index(context);
    const ledger::SessionHistory& session = context.now.plate->history.sessions[index];
    choose(context, session);
    if (context
            .stacks) { // what a tap shows stands above the taps: choosing one scrolls back up to it
        const double words = paragraph_height(context.canvas(), session_words(context, index),
                                              area.width(), k_body * scale, Weight::bold);
        head(context, next_column(context, area, 0.0, words + 50.0 * scale), index);
        chart(context, next_column(context, area, 0.0, k_stacked_chart * scale));
        taps(context, next_column(context, area, 0.0), session);
        return;
    }
    head(context, take_top(area, 46.0 * scale), index);
    take_top(area, 8.0 * scale);
    taps(context, next_column(context, area, std::min(360.0 * scale, 0.36 * area.width())),
         session);
    chart(context, area);
}

/// The tap looked into is one of this session; its study is asked for where it is not there yet.
void SessionView::choose(const ViewContext& context, const ledger::SessionHistory& session) {
    const auto here = [&](ledger::Id id) {
        return std::any_of(session.taps.begin(), session.taps.end(),
                           [id](const auto& tap) { return tap.id == id; });
    };
    if (here(tap_)) {
        return;
    }
    tap_ = 0;
    for (const ledger::TapRecord& tap : session.taps) {
        if (tap_ == 0 && taps::counts(tap.verdict)) {
            tap_ = tap.id;
        }
    }
    context.send(bench::command::StudyTap{tap_});
}

void SessionView::head(const ViewContext& context, Box box, std::size_t index) const {
    const auto& all = context.now.plate->history.sessions;
    const ledger::SessionRecord& session = all[index].session;
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    Box buttons = context.stacks ? take_bottom(box, 46.0 * scale) : box;
    const auto button = [&](std::string_view words) {
        const double width =
            canvas.measure(words, k_body * scale, Weight::bold).width + 36.0 * scale;
        const bool pressed = press(context, words, take_right(buttons, width));
        take_right(buttons, 8.0 * scale);
        return pressed;
    };
    if (button(say("Onto the bench"))) {
        context.send(bench::command::OpenSession{session.id});
        context.place = Place::bench;
    }
    if (index + 1 < all.size() && button(say("Later one"))) {
        context.session_shown = all[index + 1].session.id;
    }
    if (index > 0 && button(say("Earlier one"))) {
        context.session_shown = all[index - 1].session.id;
    }
    const std::string words = session_words(context, index);
    if (context.stacks) {
        paragraph(canvas, words, box, k_body * scale, context.palette().ink, Weight::bold);
        return;
    }
    line(canvas, words, {box.left, box.top, buttons.right, box.bottom},
         {.colour = context.palette().ink, .height = k_body * scale, .weight = Weight::bold});
}

void SessionView::taps(const ViewContext& context, const Box& box,
                       const ledger::SessionHistory& session) {
    const Page page(context, "taps", box);
    forced(context, session);
    heading(context, say("Taps"));
    const bool playing = context.now.playing != 0;
    if (tap_ != 0 && (flow_press(context, playing ? say("Silence") : say("Play the tap"), "P") ||
                      context.keys.take(U'p'))) {
        context.send(bench::command::PlayTap{playing ? 0 : tap_});
    }
    correct(context, session);
    if (session.taps.empty()) {
        faint_text(context, say("No taps in this session yet."));
    }
    for (std::size_t i = 0; i < session.taps.size(); ++i) {
        const ledger::TapRecord& tap = session.taps[i];
        const std::string main =
            std::to_string(i + 1) + ": " + std::string(taps::to_text(tap.verdict));
        if (row(context, static_cast<int>(tap.id), main, tap_line(tap), tap.id == tap_)) {
            tap_ = tap.id;
            context.send(bench::command::StudyTap{tap_});
            scroll_up(context);
        }
    }
    heading(context, say("Notes"));
    if (session.session.notes.empty()) {
        faint_text(context, say("None. Under Plates a session is corrected, its notes too."));
    } else {
        text(context, session.session.notes);
    }
}

/// How the plate answers the hammer's force, spot by spot: of the session on the bench, whose sound
/// is at hand.
void SessionView::forced(const ViewContext& context, const ledger::SessionHistory& session) const {
    if (session.session.id != context.now.plate->session) {
        return;
    }
    for (const bench::ForcedAnswer& answer : context.now.plate->forced) {
        heading(context, answer.spot == taps::Spot::unknown
                             ? say("Response to the force")
                             : say("Response to the force, {}", taps::to_text(answer.spot)));
        faint_text(context,
                   say_count(answer.strikes, "{} strike counts, driven to {} Hz",
                             "{} strikes count, driven to {} Hz", figure(answer.driven_to_hz, 0)));
        if (answer.no_force + answer.clipped + answer.pushed_twice > 0) {
            complaint(context,
                      say("Without force {}, clipped {}, pushed twice {}: these do not count.",
                          answer.no_force, answer.clipped, answer.pushed_twice));
        }
        for (const auto& mode : answer.modes) {
            text(context, response_line(answer, mode));
        }
        faint_text(context, answer.newton > 0
                                ? say("|H1| in dB: full scale of the sound for one newton.")
                                : say("|H1| in dB: full scale of the sound for full scale of the "
                                      "force, whose newtons are not known (F5)."));
    }
}

/// The tap looked into: where it was struck, and whether it counts.
void SessionView::correct(const ViewContext& context, const ledger::SessionHistory& session) {
    const auto tap = std::find_if(session.taps.begin(), session.taps.end(),
                                  [this](const auto& one) { return one.id == tap_; });
    if (tap == session.taps.end()) {
        return;
    }
    const bool body = context.now.plate->history.plate.part == modes::Part::body;
    std::vector<Option<taps::Spot>> spots;
    for (const taps::Spot spot : taps::k_spots) {
        if (spot == taps::Spot::unknown || taps::is_on_bridge(spot) == body) {
            spots.push_back({spot, std::string(taps::to_text(spot))});
        }
    }
    taps::Spot struck = tap->spot;
    if (drop_down(context, say("struck at"), spots, struck, 260)) {
        context.send(bench::command::SetSpot{tap->id, struck});
    }
    if (taps::is_in_question(tap->verdict) && flow_press(context, say("Count it"))) {
        context.send(bench::command::CountTap{tap->id});
    }
    if (flow_press(context, say("Take this tap out"))) {
        away_.put(context, "tap", tap->id, say("the tap"));
    }
    away_.draw_back(context);
}

void SessionView::chart(const ViewContext& context, Box box) {
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    sheet(canvas, context.look, box);
    box = inset(box, 14.0 * scale);
    const auto& study = context.now.study;
    if (!study || study->tap != tap_) {
        paragraph(canvas,
                  say("Choose a tap whose sound was kept: its spectrum, the fit and what the fit "
                      "leaves over show here."),
                  box, k_body * scale, context.palette().faint_ink);
        return;
    }
    line(canvas,
         say("Fit: {} ({} dB left over)", fit_words(study->left_db),
             signed_figure(study->left_db, 1)),
         take_top(box, 26.0 * scale),
         {.colour = context.palette().ink, .height = k_body * scale, .weight = Weight::bold});
    const bool logarithmic = context.preferences.logarithmic;
    const auto kind = context.now.plate->history.instrument.kind;
    const ChartPane::Subject subject{study, logarithmic ? 1 : 0,
                                     [&](const plot::Palette& palette) {
                                         return plot::spectrum_chart(
                                             study_picture(*study, kind, logarithmic), palette);
                                     },
                                     "tap"};
    pane_.tools(context, subject, take_bottom(box, 36.0 * scale));
    take_bottom(box, 4.0 * scale);
    read_out(context, pane_.draw(context, subject, box, k_small * scale, ChartPane::Zooms::across));
}

} // namespace platewright::screen
