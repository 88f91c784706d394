#include "screen/bench/plate_side.hpp"

#include "base/text.hpp"
#include "bench/session/fresh_session.hpp"
#include "bench/session/guide.hpp"
#include "screen/bench/decision_strip.hpp"
#include "screen/carve/carving_sheet.hpp"
#include "screen/draw/parts.hpp"
#include "screen/fields/fields.hpp"
#include "trends/model/plate_form.hpp"

#include <algorithm>
#include <array>
#include <vector>

namespace platewright::screen {
namespace {
using plot::Box;
using plot::Weight;

bool is_of_body(const ViewContext& context) {
    return context.now.plate && context.now.plate->history.plate.part == modes::Part::body;
}

/// The next one of the plate's, or of the closed body's.
taps::Spot next_spot(taps::Spot spot, bool of_body) {
    const auto& all = taps::k_spots;
    auto at = std::find(all.begin(), all.end(), spot);
    while (at != all.end() && ++at != all.end())
        if (taps::is_on_bridge(*at) == of_body)
            return *at;
    return all.front();
}

/// Where the coming tap is to be struck: what the decision asks for, until the maker has chosen
/// another spot and not yet struck there; nothing where none is asked for or chosen.
std::optional<taps::Spot> wanted_spot(const bench::Snapshot& now) {
    const trends::Decision& decision = now.plate->decision;
    const bool asks = decision.advice == trends::Advice::tap && !decision.by_hand &&
                      decision.spot != taps::Spot::unknown;
    const bool chose = now.striking_at != taps::Spot::unknown;
    if (asks && (!chose || now.good_taps_here > 0)) {
        return decision.spot;
    }
    return chose ? std::optional(now.striking_at) : std::nullopt;
}

/// Whether a tap is wanted, wherever it is struck: beside "Stop", wood, the scales or a name to be
/// given by hand none is.
bool wants_tap(const ViewContext& context) {
    const trends::Decision& decision = context.now.plate->decision;
    return weighs_now(context) || (decision.advice == trends::Advice::tap && !decision.by_hand);
}

/// What the marks in the drawing mean.
void legend(const ViewContext& context, Box box, bool strikes, bool holds, bool lays_on) {
    const plot::Palette& p = context.palette();
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    const auto entry = [&](plot::Shape shape, std::string_view words, plot::Colour ink) {
        const Box sign = take_left(box, 20.0 * scale);
        canvas.mark({sign.left + 7.0 * scale, 0.5 * (sign.top + sign.bottom)}, shape, 12.0 * scale,
                    ink);
        const double width =
            canvas.measure(words, k_small * scale, Weight::regular).width + 14.0 * scale;
        line(canvas, words, take_left(box, width), {.colour = p.ink, .height = k_small * scale});
    };
    if (strikes) {
        entry(plot::Shape::ring, say("strike"), p.accent);
    }
    if (holds) {
        entry(plot::Shape::square, say("hold"), p.ink);
    }
    if (lays_on) {
        entry(plot::Shape::disc, say("mass"), p.accent);
    }
    const std::string_view side = say("seen from outside");
    if (canvas.measure(side, k_small * scale, Weight::regular).width <= box.width()) {
        line(canvas, side, box,
             {.colour = p.faint_ink, .height = k_small * scale, .across = plot::Across::right});
    }
}

std::string quantity(std::optional<double> value, int decimals, std::string_view unit) {
    return value ? figure(*value, decimals) + " " + std::string(unit)
                 : "\u2013 " + std::string(unit);
}

} // namespace

bool may_end(const ViewContext& context) {
    return context.now.plate && context.now.plate->history.plate.part != modes::Part::body &&
           context.now.plate->decision.advice != trends::Advice::tap &&
           context.closed_session != context.now.plate->session;
}

void begin_session(const ViewContext& context) {
    if (!context.now.plate) {
        return;
    }
    context.send(bench::command::BeginSession{bench::fresh_session(context.now.plate->history)});
}

void strike_at_next_spot(const ViewContext& context) {
    // The first is the one that is drawn.
    const taps::Spot chosen = context.now.striking_at;
    const auto drawn = context.now.plate ? wanted_spot(context.now) : std::nullopt;
    context.send(bench::command::StrikeAt{
        drawn.value_or(chosen) != chosen ? *drawn : next_spot(chosen, is_of_body(context))});
}

void draw_session_facts(const ViewContext& context, Box box) {
    const double scale = context.look.scale;
    const ledger::SessionRecord& session = context.session()->session;
    const plot::Palette& p = context.palette();
    ImguiCanvas canvas = context.canvas();
    const std::string mass = quantity(session.mass_g, 1, "g");
    const double width = canvas.measure(mass, k_delta * scale, Weight::bold).width;
    line(canvas, mass, take_right(box, width),
         {.colour = session.mass_g ? p.ink : p.faint_ink,
          .height = k_delta * scale,
          .across = plot::Across::right,
          .weight = Weight::bold});
    take_right(box, 14.0 * scale);
    const auto fits = [&](const std::string& row) {
        return canvas.measure(row, k_small * scale, Weight::regular).width <= box.width();
    };
    const std::string dated =
        std::string(modes::to_text(session.stage)) + ", " + base::local_date(session.begun);
    const std::string staged = std::string(say("stage")) + ": " + dated;
    const std::array words{fits(staged) ? staged : dated,
                           quantity(session.temperature_c, 1, "\u00b0C") + ", " +
                               quantity(session.humidity_pct, 0, say("% humidity"))};
    box.top += 0.5 * (box.height() - 40.0 * scale);
    for (const std::string& row : words) {
        const Box at = take_top(box, 20.0 * scale);
        if (fits(row)) {
            line(canvas, row, at,
                 {.colour = p.faint_ink, .height = k_small * scale, .across = plot::Across::right});
        }
    }
}

void PlateSide::write(const ViewContext& context) {
    draft_.emplace(context.session()->session);
    fresh_ = true;
}

/// Where to strike and hold, or where the next pass takes wood.
void PlateSide::plate(const ViewContext& context, Box box) {
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    if (pass_.is_due(context) && !weighs_now(context)) {
        outline_.follow(context);
        pass_.draw(context, box, outline_);
        return;
    }
    const bool wants = wants_tap(context);
    const auto spot = wants ? wanted_spot(context.now) : std::nullopt;
    const auto& weighing = context.now.plate->weighing;
    const bool lays_on =
        weighs_now(context) && weighing->progress.step == trends::WeighingStep::tap_with;
    large_line(context,
               lays_on  ? say("{} g, here", figure(weighing->record.mass_g, 2))
               : spot   ? std::string(taps::to_text(*spot))
               : !wants ? std::string(say("Enough taps"))
                        : std::string(say("Anywhere on the plate")),
               take_top(box, 40.0 * scale));
    if (spot && context.now.striking_at == *spot && context.preferences.taps_a_spot > 0) {
        line(canvas,
             say("{} of {} good taps", context.now.good_taps_here, context.preferences.taps_a_spot),
             take_top(box, 20.0 * scale),
             {.colour = context.palette().faint_ink, .height = k_body * scale});
    }
    if (spot && context.now.striking_at != *spot) { // else its taps count for elsewhere
        line(canvas, say("Space says that you strike here."), take_top(box, 20.0 * scale),
             {.colour = context.palette().ink, .height = k_body * scale});
    }
    if (!wants && context.now.striking_at != taps::Spot::unknown) { // Space is answered here too
        line(canvas, say("Taps count for: {}.", taps::to_text(context.now.striking_at)),
             take_top(box, 20.0 * scale),
             {.colour = context.palette().faint_ink, .height = k_small * scale});
    }
    const int sought = spot ? bench::mode_sought(*spot) : 0;
    legend(context, take_bottom(box, 20.0 * scale), wants, sought != 0 && !is_of_body(context),
           lays_on);
    outline_.follow(context);
    draw_plate(canvas, context.look, inset(box, 6.0 * scale), outline_, spot,
               is_of_body(context) ? 0 : sought, is_of_body(context),
               lays_on ? outline_.placed(weighing->record.at) : std::nullopt);
}

PlateSide::Pressed PlateSide::draw(const ViewContext& context, Box box) {
    if (draft_) {
        edit_session(context, box);
        return Pressed::nothing;
    }
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    const Pressed pressed = tools(context, take_bottom(box, 96.0 * scale));
    take_bottom(box, 6.0 * scale);
    canvas.box(box, context.palette().panel, 0.0);
    plate(context, {box.left + 10.0 * scale, box.top + 4.0 * scale, box.right - 10.0 * scale,
                    box.bottom - 4.0 * scale});
    return pressed;
}

PlateSide::Pressed PlateSide::draw_wide(const ViewContext& context, Box box) {
    if (draft_) {
        edit_session(context, box);
        return Pressed::nothing;
    }
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    Box left = take_left(box, 0.56 * box.width());
    take_left(box, 6.0 * scale);
    canvas.box(box, context.palette().panel, 0.0);
    plate(context, inset(box, 6.0 * scale));
    draw_session_facts(context, take_top(left, 48.0 * scale));
    take_top(left, 6.0 * scale);
    return tools(context, take_top(left, std::min(left.height(), 150.0 * scale)));
}

/// Keys that can be pressed by hand, three to a row.
PlateSide::Pressed PlateSide::tools(const ViewContext& context, Box box) {
    const double gap = 4.0 * context.look.scale;
    const double width = (box.width() - 2.0 * gap) / 3.0;
    Box row = take_top(box, 0.5 * (box.height() - gap));
    take_top(box, gap);
    const auto tool = [&](std::string_view words, std::string_view key) {
        const Box at = take_left(row, width);
        take_left(row, gap);
        return press_tool(context, words, at, key);
    };
    Pressed pressed = Pressed::nothing;
    if (tool(say("New session"), "N")) {
        begin_session(context);
    }
    const bool ends = may_end(context);
    // One key for one thing: where the mass is what comes next, the key that ends the tapping asks
    // for it too.
    const bool mass_ends = ends && context.now.plate->decision.advice == trends::Advice::weigh;
    if (tool(say("Enter mass"), mass_ends ? "W" : "E")) {
        if (mass_ends) {
            pressed = Pressed::end;
        } else {
            write(context);
        }
    }
    if (ends && !mass_ends) { // no spot is asked for any more
        if (tool(say("End tapping"), "W")) {
            pressed = Pressed::end;
        }
    } else if (tool(say("Next spot"), say("Space"))) {
        strike_at_next_spot(context);
    }
    row = box;
    if (tool(say("Take back tap"), say("Backspace"))) {
        context.send(bench::command::UndoTap{});
    }
    if (context.now.taps_to_put_back > 0 ? tool(say("Put back"), "R") : false) {
        context.send(bench::command::RedoTap{});
    }
    if (tool(say("Name"), "M") && !context.now.plate->naming.modes.empty()) {
        pressed = Pressed::name;
    }
    if (context.now.taps_to_put_back == 0 && !context.stacks && tool(say("Spectrum"), "X")) {
        pressed = Pressed::spectrum;
    }
    return pressed;
}

void PlateSide::edit_session(const ViewContext& context, const Box& box) {
    const Page page(context, "session", box);
    FormAnswer answer = session_form(context, *draft_, complaint_, fresh_);
    if (enter_in_ > 0) {
        context.owed = std::max(context.owed, 1);
        if (--enter_in_ == 0) {
            answer = FormAnswer::save;
            ImGui::SetWindowFocus(nullptr); // the writing mark goes with the form
        }
    }
    switch (answer) {
    case FormAnswer::open:
        break;
    case FormAnswer::cancel:
        draft_.reset();
        complaint_.clear();
        break;
    case FormAnswer::save:
        const auto finished = draft_->finished();
        complaint_ = finished ? Complaint{} : Complaint{finished.fault().what, finished.at};
        if (finished) {
            context.send(bench::command::SaveSession{*finished});
            draft_.reset();
        }
        break;
    }
    fresh_ = false;
}

} // namespace platewright::screen
