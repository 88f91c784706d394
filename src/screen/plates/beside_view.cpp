#include "screen/plates/beside_view.hpp"

#include "base/text.hpp"
#include "screen/draw/chart_pane.hpp"
#include "screen/draw/parts.hpp"
#include "screen/draw/pictures.hpp"
#include "screen/fields/fields.hpp"
#include "screen/fields/stack.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <tuple>

namespace platewright::screen {
namespace {
using plot::Across;
using plot::Box;
using plot::Weight;

std::string hz_text(const std::optional<modes::Mode>& mode) {
    return mode ? figure(mode->frequency_hz, 1) : std::string("\u2013");
}

struct BesideColumn {
    wording::Phrase title;
    double share;
};
constexpr std::array k_beside_columns{
    BesideColumn{"mode", 0.23},      BesideColumn{"this plate", 0.13},
    BesideColumn{"reference", 0.13}, BesideColumn{"difference, Hz", 0.18},
    BesideColumn{"cents", 0.09},     BesideColumn{"Q to Q", 0.09},
    BesideColumn{"real?", 0.15}};

/// For a window of 1280 × 800: title, heads, a row a mode, the foot, and a doubt where there is
/// one.
double table_height(const trends::Comparison& comparison) {
    return 28.0 + 30.0 + 24.0 + 27.0 * static_cast<double>(comparison.modes.size()) + 30.0 +
           (comparison.doubt.empty() ? 0.0 : 26.0);
}

std::array<std::string, 7> cells(const trends::ComparedMode& mode) {
    return {mode.number ? modes::mode_text(*mode.number) : say("no name"),
            hz_text(mode.plate),
            hz_text(mode.reference),
            mode.hz ? wording::signed_with_range(*mode.hz, *mode.hz_sd, 1) : std::string("\u2013"),
            mode.cents ? signed_figure(*mode.cents, 0) : std::string("\u2013"),
            mode.q_ratio ? figure(*mode.q_ratio, 2) : std::string("\u2013"),
            !mode.hz             ? std::string()
            : mode.beyond_spread ? say("yes")
                                 : say("no")};
}

/// How the octaves and the masses stand to each other.
std::string foot_words(const trends::Comparison& comparison) {
    std::string words;
    if (comparison.plate_ratio_5_to_2 && comparison.reference_ratio_5_to_2) {
        words =
            say("Mode 5 to mode 2: {} here, {} there.", figure(*comparison.plate_ratio_5_to_2, 3),
                figure(*comparison.reference_ratio_5_to_2, 3)) +
            " ";
    }
    if (comparison.mass_g && std::abs(*comparison.mass_g) >= 0.05) { // less is not shown
        const std::string grams = figure(std::abs(*comparison.mass_g), 1);
        words += *comparison.mass_g < 0.0 ? say("This plate is {} g lighter.", grams)
                                          : say("This plate is {} g heavier.", grams);
    }
    return words;
}

std::string_view what_to_choose() {
    return say("Choose what this plate is set beside: a reference, or an earlier session. A "
               "session becomes a reference in the plates view.");
}

/// One row of the table: beside each other; stacked, the first cell above the others.
void set_row(const ViewContext& context, Box at, const std::array<std::string, 7>& words,
             const plot::Lettering& lettering) {
    ImguiCanvas canvas = context.canvas();
    double full = at.width();
    std::size_t first = 0;
    if (context.stacks) {
        line(canvas, words[0], take_top(at, 0.5 * at.height()), lettering);
        full /= 1.0 - k_beside_columns[0].share;
        first = 1;
    }
    for (std::size_t i = first; i < k_beside_columns.size(); ++i) {
        Box cell = take_left(at, k_beside_columns[i].share * full);
        cell.right -= 6.0 * context.look.scale;
        line(canvas, words[i], cell, lettering);
    }
}

} // namespace

void BesideView::draw(const ViewContext& context, Box area) {
    const double scale = context.look.scale;
    if (!context.now.plate) {
        invite_to_plates(context, area, say("No plate on the bench"),
                         say("Put a plate on the bench; then it can be set beside a reference or "
                             "beside an earlier session of its own."));
        return;
    }
    if (context.stacks) { // what is compared first, what with last: choosing scrolls back up
        if (context.now.plate->comparison) {
            table(context, next_column(context, area, 0.0));
            chart(context, next_column(context, area, 0.0, k_stacked_chart * scale));
        }
        choices(context, next_column(context, area, 0.0));
        return;
    }
    choices(context, next_column(context, area, std::min(300.0 * scale, 0.32 * area.width())));
    if (!context.now.plate->comparison) {
        invitation(context, area, say("Compare with what?"), what_to_choose(), "");
        return;
    }
    table(context,
          take_bottom(area, std::min(0.5 * area.height(),
                                     table_height(*context.now.plate->comparison) * scale)));
    take_bottom(area, 10.0 * scale);
    chart(context, area);
}

void BesideView::choices(const ViewContext& context, const Box& box) const {
    const bench::PlateView& plate = *context.now.plate;
    const Page page(context, "choices", box);
    int id = 0;
    if (context.stacks && !plate.comparison) {
        heading(context, say("Compare with what?"));
        text(context, what_to_choose());
    }
    heading(context, say("References"));
    if (context.now.references.empty()) {
        faint_text(context,
                   say("None yet. In the plates view a session you liked can be made one."));
    }
    for (const ledger::ReferenceRecord& reference : context.now.references) {
        const bool chosen = plate.reference && plate.reference->session == reference.session;
        if (row(context, ++id, reference.label, {}, chosen)) {
            scroll_up(context);
            context.send(bench::command::CompareWith{chosen ? 0 : reference.session});
        }
    }
    if (plate.history.sessions.size() > 1 || plate.session == 0) {
        heading(context, say("This plate's sessions"));
    }
    std::size_t number = plate.history.sessions.size();
    for (auto s = plate.history.sessions.rbegin(); s != plate.history.sessions.rend(); ++s) {
        const std::size_t own = number--;
        if (s->session.id == plate.session) {
            continue;
        }
        const bool chosen = plate.reference && plate.reference->session == s->session.id;
        const std::string second = base::local_date(s->session.begun) + ", " +
                                   std::string(modes::to_text(s->session.stage));
        if (row(context, ++id, say("session {}", own), second, chosen)) {
            scroll_up(context);
            context.send(bench::command::CompareWith{chosen ? 0 : s->session.id});
        }
    }
}

void BesideView::chart(const ViewContext& context, Box box) {
    const auto plate = context.now.plate;
    const bool logarithmic = context.preferences.logarithmic;
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    sheet(canvas, context.look, box);
    box = inset(box, 12.0 * scale);
    const ChartPane::Subject subject{plate, logarithmic ? 1 : 0,
                                     [&](const plot::Palette& palette) {
                                         return plot::beside_chart(
                                             beside_picture(*plate, logarithmic), palette);
                                     },
                                     "beside"};
    pane_.tools(context, subject, take_bottom(box, 36.0 * scale));
    take_bottom(box, 4.0 * scale);
    read_out(context, pane_.draw(context, subject, box, k_small * scale, ChartPane::Zooms::across));
}

void BesideView::table(const ViewContext& context, Box box) const {
    const trends::Comparison& comparison = *context.now.plate->comparison;
    const plot::Palette& p = context.palette();
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    const Growing ground(context, "table", box);
    box = inset(box, 14.0 * scale);
    const std::string title = say("Compared with {}", context.now.plate->reference_label);
    if (context.stacks) {
        box.top += paragraph(canvas, title, box, k_lead * scale, p.ink, Weight::bold);
    } else {
        line(canvas, title, take_top(box, 30.0 * scale),
             {.colour = p.ink, .height = k_lead * scale, .weight = Weight::bold});
    }
    const double rows = context.stacks ? 2.0 : 1.0;
    std::array<std::string, k_beside_columns.size()> titles;
    for (std::size_t i = 0; i < titles.size(); ++i) {
        titles[i] = say(k_beside_columns[i].title);
    }
    set_row(context, take_top(box, rows * 24.0 * scale), titles,
            {.colour = p.faint_ink, .height = k_small * scale, .weight = Weight::regular});
    Box foot =
        context.stacks ? Box{} : take_bottom(box, (comparison.doubt.empty() ? 26.0 : 52.0) * scale);
    for (const trends::ComparedMode& mode : comparison.modes) {
        if (box.height() < 27.0 * scale) {
            break;
        }
        const plot::Colour ink =
            mode.number ? plot::mode_look(*mode.number, p).colour : p.faint_ink;
        set_row(context, take_top(box, rows * 27.0 * scale), cells(mode),
                {.colour = ink,
                 .height = k_body * scale,
                 .weight = mode.number ? Weight::bold : Weight::regular});
    }
    for (const auto& [words, ink, weight] :
         {std::tuple{comparison.doubt, p.on_caution, Weight::bold},
          {foot_words(comparison), p.ink, Weight::regular}}) {
        if (words.empty()) {
            continue;
        }
        if (context.stacks) {
            box.top += 6.0 * scale;
            box.top += paragraph(canvas, words, box, k_body * scale, ink, weight);
        } else {
            line(canvas, words, take_top(foot, 26.0 * scale),
                 {.colour = ink, .height = k_body * scale, .weight = weight});
        }
    }
    ground.reached(box.top + 14.0 * scale);
}

} // namespace platewright::screen
