#include "screen/bench/bench_view.hpp"

#include "plot/spectrum.hpp"
#include "screen/bench/decision_strip.hpp"
#include "screen/bench/lane.hpp"
#include "screen/bench/lanes.hpp"
#include "screen/bench/verdict_band.hpp"
#include "screen/draw/chart_pane.hpp"
#include "screen/draw/parts.hpp"
#include "screen/draw/pictures.hpp"
#include "trends/decision/decision.hpp"
#include "trends/plate_report.hpp"

#include <algorithm>

namespace platewright::screen {
namespace {

using plot::Box;
using plot::Weight;

constexpr double k_gap = 8.0;
constexpr double k_band = 96.0;
constexpr double k_plain_lane = 84.0;               // the least without the spectrum
constexpr double k_lane = 148.0, k_low_lane = 76.0; // with the spectrum's height below, and else
constexpr double k_spectrum = 246.0; // of which half is the plot, the rest its letters

} // namespace

std::vector<std::string> doubts_of(const bench::PlateView& plate) {
    std::vector<std::string> all{trends::doubt_beside(plate.naming, plate.decision),
                                 plate.in_air ? std::string() : trends::air_doubt(plate.history),
                                 plate.repeatability};
    std::erase(all, std::string());
    return all;
}

namespace {

/// Around a doubt's words, and the gap beside its box; less where letters are large for the window.
struct DoubtRoom {
    double side, above, gap;
};
DoubtRoom doubt_room(const ViewContext& context) {
    return context.stacks ? DoubtRoom{8.0, 4.0, 4.0} : DoubtRoom{12.0, 5.0, k_gap};
}

} // namespace

void draw_doubt(const ViewContext& context, const std::string& words, const Box& box) {
    const double scale = context.look.scale;
    const DoubtRoom room = doubt_room(context);
    ImguiCanvas canvas = context.canvas();
    canvas.box(box, context.palette().caution, 0.0);
    paragraph(canvas, words,
              {box.left + room.side * scale, box.top + room.above * scale,
               box.right - room.side * scale, box.bottom},
              k_body * scale, context.palette().on_caution);
}

double doubt_height(const ViewContext& context, const std::string& words, double width) {
    const double scale = context.look.scale;
    const DoubtRoom room = doubt_room(context);
    return words.empty() ? 0.0
                         : paragraph_height(context.canvas(), words,
                                            width - 2.0 * room.side * scale, k_body * scale) +
                               (2.0 * room.above + room.gap) * scale;
}

/// What stands in place of the bench while there is nothing to tap.
bool BenchView::invites(const ViewContext& context, const Box& area) {
    if (!context.now.plate && (!context.now.instruments || context.now.instruments->empty())) {
        first_run_.draw(context, area);
        return true;
    }
    if (!context.now.plate) {
        invite_to_plates(context, area, say("No plate on the bench"),
                         say("Choose the plate you are working on, or enter a new instrument and "
                             "its plates. Then hang it up and tap."));
        return true;
    }
    if (context.session() != nullptr) {
        return false;
    }
    if (invitation(context, area, say("No session yet"),
                   say("A session is one visit to the bench with this plate. Begin one, hold or "
                       "hang the plate at a nodal line, and tap."),
                   say("Begin a session"), "N") ||
        context.keys.take(U'n')) {
        begin_session(context);
    }
    return true;
}

void BenchView::draw(const ViewContext& context, Box area, const std::optional<Box>& plate) {
    if (invites(context, area)) {
        return;
    }
    keys(context);
    if (context.stacks) {
        draw_stacked(context, area);
        return;
    }
    const double scale = context.look.scale, gap = k_gap * scale;
    draw_verdict(context, take_top(area, k_band * scale));
    take_top(area, gap);
    if (plate) {
        take(context, side_.draw(context, *plate));
    } else {
        const double side = std::clamp(0.28 * area.width(), 250.0 * scale,
                                       std::max(320.0 * scale, 0.5 * area.height()));
        take(context, side_.draw(context, take_right(area, side)));
        take_right(area, gap);
    }
    foot(context, area);
    middle(context, area);
    // A foot switch: whatever key nothing on this view has taken.
    if (!naming_.is_open() && !side_.writing() && context.keys.take_any()) {
        strike_at_next_spot(context);
    }
}

/// The lanes, and where there is room or it was asked for the spectrum below them.
void BenchView::middle(const ViewContext& context, Box area) {
    const double scale = context.look.scale, gap = k_gap * scale;
    const bool room = area.height() >= (3.0 * k_lane + k_spectrum + k_gap) * scale;
    if (naming_.is_open() || spectrum_ || room) {
        const double least = (3.0 * k_low_lane + k_gap + k_spectrum - 20.0) * scale;
        if (!room && area.height() < least) { // one of both, and no spectrum too low to be read
            if (area.height() >= (k_spectrum - 30.0) * scale) {
                spectrum(context, area);
            } else {
                draw_lanes(context, area);
            }
            return;
        }
        const double lanes =
            room ? 3.0 * k_lane * scale
                 : std::max(3.0 * k_low_lane * scale, area.height() - (k_spectrum + k_gap) * scale);
        Box below = area;
        draw_lanes(context, take_top(below, room ? std::max(lanes, 0.5 * area.height()) : lanes));
        take_top(below, gap);
        spectrum(context, below);
        return;
    }
    const std::string words = kin_words(*context.now.plate);
    if (!words.empty() && area.height() >= (3.0 * k_plain_lane + 20.0) * scale) {
        ImguiCanvas canvas = context.canvas();
        const Box row = take_bottom(area, 20.0 * scale);
        line(canvas, words, {row.left + 12.0 * scale, row.top, row.right, row.bottom},
             {.colour = context.palette().faint_ink, .height = k_small * scale});
    }
    draw_lanes(context, area);
}

/// The decision, or the question which mode it is; and above it what is not sure.
void BenchView::foot(const ViewContext& context, Box& area) {
    const double scale = context.look.scale, gap = k_gap * scale;
    if (naming_.is_open()) { // no decision meanwhile: the question and the chart it points into
                             // need the room
        naming_.draw(context,
                     take_bottom(area, (area.width() < 760.0 * scale ? 84.0 : 54.0) * scale));
        take_bottom(area, gap);
        return;
    }
    // Beside the sentence stands what it asks for, and nothing else.
    const bool ends = may_end(context) && !weighs_now(context) &&
                      context.now.plate->decision.advice == trends::Advice::weigh;
    const double button = ends ? 196.0 * scale : 0.0;
    const double width = area.width() - button;
    const SaidBelow said = what_fits(context, area, width);
    const double height =
        std::max(decision_height(context, width, said.reason), (spectrum_ ? 0.0 : 84.0) * scale);
    Box box = take_bottom(area, said.reason ? height : decision_height(context, width, false));
    take_bottom(area, gap);
    if (ends &&
        press(context, say("Enter mass"), take_right(box, button - gap), "W", Stress::strong)) {
        close_tapping(context);
    }
    if (ends) {
        take_right(box, gap);
    }
    draw_decision(context, box, said.reason);
    if (said.missing > 0) {
        ImguiCanvas canvas = context.canvas();
        line(canvas, say("{} more", said.missing) + " (X)",
             {box.left, box.bottom - 20.0 * scale, box.right - 8.0 * scale, box.bottom},
             {.colour = context.palette().ink,
              .height = k_small * scale,
              .across = plot::Across::right});
    }
    if (!said.doubt.empty()) {
        const Box above = take_bottom(area, doubt_height(context, said.doubt, area.width()) - gap);
        take_bottom(area, gap);
        draw_doubt(context, said.doubt, above);
    }
}

/// The reason gives way to the lanes, or to a spectrum that was asked for, then what is not sure,
/// the lesser of it first; where lanes and spectrum have no room together, the spectrum alone
/// leaves it to all.
BenchView::SaidBelow BenchView::what_fits(const ViewContext& context, const Box& area,
                                          double width) const {
    const double scale = context.look.scale, gap = k_gap * scale;
    const std::vector<std::string> doubts = doubts_of(*context.now.plate);
    const auto first = [&](std::size_t count) {
        std::string words;
        for (std::size_t i = 0; i < count; ++i) {
            words += (words.empty() ? "" : " ") + doubts[i];
        }
        return words;
    };
    const bool has_reason = !decision_reason(context).empty();
    const double lanes =
        (spectrum_ ? 3.0 * k_low_lane + k_gap + k_spectrum - 20.0 : 3.0 * k_plain_lane) * scale;
    const auto room = [&](bool reason, std::size_t count) {
        return area.height() - decision_height(context, width, reason) - gap -
                   doubt_height(context, first(count), area.width()) >=
               lanes;
    };
    std::size_t count = doubts.size();
    bool reason = room(true, count);
    if (!reason && spectrum_ && !room(false, count)) {
        reason = true; // the lanes are not shown
    }
    while (!reason && count > 0 && !room(false, count)) {
        --count;
    }
    return {.reason = reason,
            .doubt = first(count),
            .missing = (has_reason && !reason ? 1 : 0) + static_cast<int>(doubts.size() - count)};
}

void BenchView::take(const ViewContext& context, PlateSide::Pressed pressed) {
    if (pressed == PlateSide::Pressed::end) {
        close_tapping(context);
    }
    if (pressed == PlateSide::Pressed::name) {
        naming_.open();
    }
    if (pressed == PlateSide::Pressed::spectrum) {
        spectrum_ = !spectrum_;
    }
}

void BenchView::close_tapping(const ViewContext& context) {
    context.closed_session = context.now.plate->session;
    context.send(bench::command::Listen{false});
    side_.write(context);
}

void BenchView::open_form(const ViewContext& context, bool waits) {
    std::ranges::copy(context.keys.take_letters(), std::back_inserter(typed_ahead_));
    context.owed = std::max(context.owed, 2);
    if (context.keys.take(Key::escape)) {
        opening_ = false;
        typed_ahead_.clear();
    } else if (!side_.writing()) {
        if (!context.is_behind && !waits) {
            side_.write(context);
        }
    } else if (ImGui::GetIO().WantTextInput) {
        opening_ = false;
        bool entered = false;
        for (const char32_t letter : std::exchange(typed_ahead_, {})) {
            if (letter == U'\n') {
                entered = true;
            } else {
                ImGui::GetIO().AddInputCharacter(static_cast<unsigned>(letter));
            }
        }
        if (entered) {
            side_.enter_soon();
        }
    }
}

void BenchView::keys(const ViewContext& context) {
    if (opening_) {
        return open_form(context, false);
    }
    if (side_.writing()) {
        return; // a form is open: its letters are words, also while no field has the cursor
    }
    if (context.keys.take(Key::backspace)) {
        context.send(bench::command::UndoTap{});
    }
    const bool begins = context.keys.take(U'n');
    if (begins) {
        begin_session(context);
    }
    if (!ImGui::GetIO().NavVisible && context.keys.take(U' ')) {
        strike_at_next_spot(context);
    }
    if (context.now.tap && taps::is_in_question(context.now.tap->record.verdict) &&
        context.keys.take(U'y')) {
        context.send(bench::command::CountTap{context.now.tap->record.id});
    }
    if (context.keys.take(U'r')) {
        context.send(bench::command::RedoTap{});
    }
    if (context.keys.take(U'e')) {
        opening_ = true;
        return open_form(context, begins); // what was typed since the last picture goes with it
    }
    if (context.now.plate->decision.advice != trends::Advice::tap && context.keys.take(U'w')) {
        close_tapping(context);
    }
    if (!context.stacks && context.keys.take(U'x')) {
        spectrum_ = !spectrum_;
    }
    const std::size_t count = context.now.plate->naming.modes.size();
    if (context.keys.take(U'm') && count > 0) {
        naming_.toggle();
    }
    naming_.keep_within(count);
    // While a mode is being named the arrows choose it, and do not move the focus as well.
    int& flags = ImGui::GetIO().ConfigFlags;
    flags = naming_.is_open() ? flags & ~ImGuiConfigFlags_NavEnableKeyboard
                              : flags | ImGuiConfigFlags_NavEnableKeyboard;
}

void BenchView::spectrum(const ViewContext& context, const Box& box) {
    const auto plate = context.now.plate;
    const bool logarithmic = context.preferences.logarithmic;
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    canvas.box(box, context.palette().panel, 0.0);
    const ChartPane::Subject subject{plate, logarithmic ? 1 : 0,
                                     [&](const plot::Palette& palette) {
                                         return plot::spectrum_chart(
                                             spectrum_picture(*plate, logarithmic), palette);
                                     },
                                     "spectrum"};
    const Box inside = inset(box, 8.0 * scale);
    const plot::Frame frame =
        pane_.draw(context, subject, inside, k_small * scale, ChartPane::Zooms::across);
    read_out(context, frame);
    if (!pane_.empty()) { // in the row of the axis' title, which stands at its right
        pane_.keep_button(context, subject,
                          {inside.left, inside.bottom - 19.0 * scale, inside.right - 150.0 * scale,
                           inside.bottom + 6.0 * scale});
    }
    if (naming_.is_open()) {
        const double x = frame.across.place(plate->naming.modes[naming_.mode()].mode.frequency_hz);
        canvas.box({x - 5.0 * scale, frame.inside.top, x + 5.0 * scale, frame.inside.bottom},
                   context.palette().accent.faded(0.35), 0.0);
    }
}

} // namespace platewright::screen
