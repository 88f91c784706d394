#include "screen/bench_side.hpp"

#include "base/text.hpp"
#include "bench/fresh_session.hpp"
#include "bench/guide.hpp"
#include "screen/fields.hpp"
#include "screen/parts.hpp"
#include "screen/plate_drawing.hpp"

#include <algorithm>

namespace platewright::screen {
namespace {
using plot::Box;
using plot::Weight;

bool is_of_body(const Sight& sight) {
    return sight.now.plate && sight.now.plate->history.plate.part == modes::Part::body;
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

/// The mode that is being looked for, and where it is struck: what the maker chose, else the spot
/// that would settle a doubt, else the first of modes 5, 2 and 1 that was not found.
struct Sought {
    int mode = 0;
    std::optional<taps::Spot> spot;
};

Sought sought_now(const bench::Snapshot& now) {
    if (now.striking_at != taps::Spot::unknown) {
        return {bench::mode_sought(now.striking_at), now.plate->naming.ask_spot};
    }
    if (const auto ask = now.plate->naming.ask_spot) {
        return {bench::mode_sought(*ask), ask};
    }
    taps::Spot spot = taps::Spot::centre;
    for (; spot != taps::Spot::unknown; spot = bench::next_sought(spot)) {
        const int mode = bench::mode_sought(spot);
        for (const bench::ModeView& figure : now.plate->figures) {
            if (figure.number == mode && !figure.now) {
                return {mode, spot};
            }
        }
    }
    return {};
}

/// "top: mode 5 at 340.2 Hz": where the instrument's other plate stands.
std::string partner_words(const bench::Partner& partner) {
    const std::string part(modes::to_text(partner.part));
    std::string words;
    for (const auto& [number, hz] : {std::pair{2, partner.mode_2_hz}, {5, partner.mode_5_hz}}) {
        if (hz) {
            words += (words.empty() ? "" : ", ") + std::to_string(number) + ": " + figure(*hz, 1);
        }
    }
    return say("{}: modes {} Hz", part, words);
}

std::string quantity(std::optional<double> value, int decimals, std::string_view unit) {
    return value ? figure(*value, decimals) + " " + std::string(unit)
                 : "\u2013 " + std::string(unit);
}

std::optional<double> ratio_of_open_session(const bench::PlateView& plate) {
    const auto& sessions = plate.history.sessions;
    for (std::size_t i = 0; i < sessions.size() && i < plate.drift.ratio_5_to_2.size(); ++i) {
        if (sessions[i].session.id == plate.session) {
            return plate.drift.ratio_5_to_2[i];
        }
    }
    return std::nullopt;
}

/// What the marks in the drawing mean, one under another, up from the foot.
void draw_key(const Sight& sight, Box box, const Sought& sought, bool said) {
    const plot::Palette& p = sight.palette();
    const double scale = sight.look.scale;
    ImguiCanvas canvas = sight.canvas();
    const auto entry = [&](plot::Shape shape, std::string_view words, plot::Colour ink) {
        Box row = take_bottom(box, 20.0 * scale);
        const Box sign = take_left(row, 20.0 * scale);
        canvas.mark({sign.left + 7.0 * scale, 0.5 * (sign.top + sign.bottom)}, shape, 12.0 * scale,
                    ink);
        line(canvas, words, row, {.colour = p.ink, .height = k_small * scale});
    };
    entry(plot::Shape::square, say("hold"), p.ink);
    entry(said ? plot::Shape::disc : plot::Shape::triangle, say("strike"),
          said ? p.accent : p.on_caution);
    const plot::ModeLook look = plot::mode_look(sought.mode, p);
    entry(look.shape, say("mode {}", sought.mode), look.colour);
}

void strike_here(const Sight& sight, Box box) {
    const plot::Palette& p = sight.palette();
    const double scale = sight.look.scale;
    ImguiCanvas canvas = sight.canvas();
    sheet(canvas, sight.look, box);
    box = inset(box, 12.0 * scale);
    const bool said = sight.now.striking_at != taps::Spot::unknown;
    if (press(sight, say("Next spot"), take_bottom(box, 40.0 * scale), say("Space"))) {
        strike_at_next_spot(sight);
    }
    take_bottom(box, 8.0 * scale);
    const Sought sought = is_of_body(sight) ? Sought{} : sought_now(sight.now);
    const Box drawing = take_right(box, std::min(0.62 * box.height(), 0.56 * box.width()));
    take_right(box, 8.0 * scale);
    draw_plate(canvas, sight.look, drawing, sight.now.striking_at, sought.spot, sought.mode,
               is_of_body(sight));
    box.top +=
        paragraph(canvas, said ? taps::to_text(sight.now.striking_at) : say("spot not given"), box,
                  k_body * scale, p.ink, Weight::bold);
    if (said && sight.wishes.taps_a_spot > 0) {
        box.top += paragraph(
            canvas, say("{} of {} good taps", sight.now.good_taps_here, sight.wishes.taps_a_spot),
            box, k_small * scale, p.faint_ink);
    }
    if (sought.mode != 0 && box.height() >= 60.0 * scale) {
        draw_key(sight, box, sought, said);
    }
}

} // namespace

void begin_session(const Sight& sight) {
    if (!sight.now.plate) {
        return;
    }
    sight.send(bench::command::BeginSession{bench::fresh_session(sight.now.plate->history)});
}

void strike_at_next_spot(const Sight& sight) {
    sight.send(bench::command::StrikeAt{next_spot(sight.now.striking_at, is_of_body(sight))});
}

void BenchSide::write(const Sight& sight) {
    draft_.emplace(sight.session()->session);
    fresh_ = true;
}

bool BenchSide::draw(const Sight& sight, Box box) {
    if (draft_) {
        edit_session(sight, box);
        return false;
    }
    const double scale = sight.look.scale;
    const bool name_asked =
        session_card(sight, take_bottom(box, (sight.now.plate->partner ? 314.0 : 292.0) * scale));
    take_bottom(box, 10.0 * scale);
    strike_here(sight, box);
    return name_asked;
}

bool BenchSide::draw_wide(const Sight& sight, Box box) {
    if (draft_) {
        edit_session(sight, box);
        return false;
    }
    const double gap = 6.0 * sight.look.scale;
    box.bottom = std::min(box.bottom, box.top + 320.0 * sight.look.scale);
    const bool name_asked = session_card(sight, take_left(box, 0.5 * (box.width() - gap)));
    take_left(box, gap);
    strike_here(sight, box);
    return name_asked;
}

bool BenchSide::session_card(const Sight& sight, Box box) {
    const plot::Palette& p = sight.palette();
    const double scale = sight.look.scale;
    const ledger::SessionRecord& session = sight.session()->session;
    const bench::PlateView& plate = *sight.now.plate;
    ImguiCanvas canvas = sight.canvas();
    sheet(canvas, sight.look, box);
    box = inset(box, (sight.stacks ? 8.0 : 12.0) * scale);
    const double button = (sight.stacks ? 36.0 : 38.0) * scale;
    const auto tell = [&](std::string_view words, double height, Weight weight, plot::Colour ink) {
        line(canvas, words, take_top(box, 1.4 * height * scale),
             {.colour = ink, .height = height * scale, .weight = weight});
    };
    tell(std::string(modes::to_text(session.stage)) + ", " + base::local_date(session.begun),
         k_body, Weight::regular, p.faint_ink);
    tell(quantity(session.mass_g, 1, "g"), k_delta, Weight::bold, p.ink);
    tell(quantity(session.temperature_c, 1, "\u00b0C") + ", " +
             quantity(session.humidity_pct, 0, say("% humidity")),
         k_body, Weight::regular, p.faint_ink);
    if (!is_of_body(sight)) {
        const std::optional<double> octave = ratio_of_open_session(plate);
        const std::string ratio =
            say("mode 5 to mode 2: {}", octave ? figure(*octave, 3) : std::string("\u2013"));
        tell(ratio, k_body, Weight::regular, p.ink);
    }
    if (plate.partner) {
        tell(partner_words(*plate.partner), k_small, Weight::regular, p.ink);
    }
    if (press(sight, say("New session"), take_bottom(box, button), "N")) {
        begin_session(sight);
    }
    take_bottom(box, 6.0 * scale);
    Box undo = take_bottom(box, button);
    if (sight.now.taps_to_put_back > 0) {
        if (press(sight, say("Put back"), take_right(undo, 0.46 * undo.width()), "R")) {
            sight.send(bench::command::RedoTap{});
        }
        take_right(undo, 6.0 * scale);
        if (press(sight, say("Take back"), undo)) {
            sight.send(bench::command::UndoTap{});
        }
    } else if (press(sight, say("Take back tap"), undo, say("Backspace"))) {
        sight.send(bench::command::UndoTap{});
    }
    take_bottom(box, 6.0 * scale);
    Box pair = take_bottom(box, button);
    if (press(sight, say("Enter mass"), take_left(pair, 0.56 * pair.width()), "E")) {
        write(sight);
    }
    take_left(pair, 6.0 * scale);
    return press(sight, say("Name"), pair, "M") && !plate.naming.modes.empty();
}

void BenchSide::edit_session(const Sight& sight, const Box& box) {
    const Page page(sight, "session", box);
    switch (session_form(sight, *draft_, complaint_, fresh_)) {
    case FormAnswer::open:
        break;
    case FormAnswer::cancel:
        draft_.reset();
        complaint_.clear();
        break;
    case FormAnswer::save:
        const auto finished = draft_->finished();
        complaint_ = finished ? std::string() : finished.fault().what;
        if (finished) {
            sight.send(bench::command::SaveSession{*finished});
            draft_.reset();
        }
        break;
    }
    fresh_ = false;
}

} // namespace platewright::screen
