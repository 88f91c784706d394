#include "screen/bench_side.hpp"

#include "base/text.hpp"
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

void strike_here(const Sight& sight, Box box) {
    const plot::Palette& p = sight.palette();
    const double scale = sight.look.scale;
    ImguiCanvas canvas = sight.canvas();
    sheet(canvas, sight.look, box);
    box = inset(box, 12.0 * scale);
    const bool said = sight.now.striking_at != taps::Spot::unknown;
    line(canvas, say("struck at"), take_top(box, 20.0 * scale),
         {.colour = p.faint_ink, .height = k_small * scale});
    line(canvas, said ? taps::to_text(sight.now.striking_at) : say("spot not given"),
         take_top(box, 28.0 * scale),
         {.colour = p.ink, .height = k_lead * scale, .weight = Weight::bold});
    if (press(sight, say("Next spot"), take_bottom(box, 40.0 * scale), say("Space"))) {
        strike_at_next_spot(sight);
    }
    take_bottom(box, 10.0 * scale);
    take_top(box, 6.0 * scale);
    draw_plate(canvas, sight.look, box, sight.now.striking_at, sight.now.plate->naming.ask_spot,
               is_of_body(sight));
}

} // namespace

void begin_session(const Sight& sight) {
    if (!sight.now.plate) {
        return;
    }
    ledger::SessionRecord session;
    session.plate = sight.now.plate->history.plate.id;
    if (is_of_body(sight)) {
        session.stage = modes::Stage::closed;
    }
    if (!sight.now.plate->history.sessions.empty()) {
        session.stage = sight.now.plate->history.sessions.back().session.stage;
    }
    sight.send(bench::command::BeginSession{session});
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
    const bool name_asked = session_card(sight, take_bottom(box, 292.0 * scale));
    take_bottom(box, 10.0 * scale);
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
    box = inset(box, 12.0 * scale);
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
    if (press(sight, say("New session"), take_bottom(box, 38.0 * scale), "N")) {
        begin_session(sight);
    }
    take_bottom(box, 6.0 * scale);
    if (press(sight, say("Take back tap"), take_bottom(box, 38.0 * scale), say("Backspace"))) {
        sight.send(bench::command::UndoTap{});
    }
    take_bottom(box, 6.0 * scale);
    Box pair = take_bottom(box, 38.0 * scale);
    if (press(sight, say("Enter mass"), take_left(pair, 0.56 * pair.width()), "E")) {
        write(sight);
    }
    take_left(pair, 6.0 * scale);
    return press(sight, say("Name"), pair, "M") && !plate.naming.modes.empty();
}

void BenchSide::edit_session(const Sight& sight, const Box& box) {
    const Page page("session", box);
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
