#include "base/text.hpp"
#include "screen/desk.hpp"
#include "screen/draw/parts.hpp"

#include <algorithm>
#include <array>

// What stands around every view: the rail with its doors, the title, the notice.

namespace platewright::screen {
namespace {
using plot::Box;
using plot::Weight;

struct Door {
    Place place;
    Key key;
    std::string_view cap;
    wording::Phrase words;
};
constexpr std::array k_doors{Door{Place::bench, Key::f1, "F1", "Bench"},
                             Door{Place::drift, Key::f2, "F2", "Drift"},
                             Door{Place::beside, Key::f3, "F3", "Compare"},
                             Door{Place::plates, Key::f4, "F4", "Plates"},
                             Door{Place::sound, Key::f5, "F5", "Microphone"},
                             Door{Place::settings, Key::f6, "F6", "Settings"},
                             Door{Place::session, Key::f7, "F7", "Session"},
                             Door{Place::carving, Key::f8, "F8", "Plate"},
                             Door{Place::wood, Key::f9, "F9", "Wood"},
                             Door{Place::files, Key::f10, "F10", "Files"}};

constexpr double k_understood = 170.0; // the width of a notice's button
constexpr double k_sign = 32.0;        // and of its sign

const bench::Notice* unread(const bench::Snapshot& now, std::int64_t read) {
    return now.notices.empty() || now.notices.back().number <= read ? nullptr : &now.notices.back();
}

} // namespace

void Desk::doors(Keys& keys) {
    for (const Door& door : k_doors) {
        if (keys.take(door.key)) {
            place_ = door.place;
        }
    }
}

void Desk::rail(const ViewContext& context, Box box) {
    const plot::Palette& p = context.palette();
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    canvas.box(box, p.panel, 0.0);
    canvas.box({box.right - scale, box.top, box.right, box.bottom}, p.line, 0.0);
    box = inset(box, 8.0 * scale);
    const bool low =
        box.height() < 602.0 * scale; // no room for the keys' caps: words alone, as high as may be
    const double gap = (low ? 3.0 : 6.0) * scale;
    const double height =
        low ? box.height() / (static_cast<double>(k_doors.size()) + 1.0) - gap : 56.0 * scale;
    for (const Door& door : k_doors) {
        const Box at = take_top(box, height);
        const Stress stress = door.place == place_ ? Stress::chosen : Stress::plain;
        if (low ? press(context, say(door.words), at, {}, stress)
                : press_door(context, say(door.words), at, door.cap, stress)) {
            place_ = door.place;
        }
        take_top(box, gap);
    }
    const Box light = take_bottom(box, low ? height : 44.0 * scale);
    if (press(context, preferences_.dark ? say("Light") : say("Dark"), light, low ? "" : "D")) {
        preferences_.dark = !preferences_.dark;
    }
}

void Desk::title(const ViewContext& context, Box box) const {
    const plot::Palette& p = context.palette();
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    box.left += 14.0 * scale;
    box.right -= 14.0 * scale;
    if (!context.now.plate) {
        line(canvas, "Platewright", box,
             {.colour = p.ink, .height = k_lead * scale, .weight = Weight::bold});
        return;
    }
    if (place_ == Place::bench && context.session() != nullptr && !guide_.is_open()) {
        draw_session_facts(context, take_right(box, 300.0 * scale));
        take_right(box, 12.0 * scale);
    }
    if (context.now.in_air) { // seen wherever figures are that it changes
        const std::string air = say("changes as if at {}", air_words(context.now.air));
        const double room = canvas.measure(air, k_small * scale, Weight::bold).width + 36.0 * scale;
        Box chip = inset(take_right(box, room), 6.0 * scale);
        chip.top += 8.0 * scale;
        chip.bottom -= 8.0 * scale;
        canvas.box(chip, p.caution, 0.5 * chip.height());
        line(canvas, air, chip,
             {.colour = p.on_caution,
              .height = k_small * scale,
              .across = plot::Across::centre,
              .weight = Weight::bold});
    }
    const ledger::PlateHistory& history = context.now.plate->history;
    const std::string name = plate_name(history.instrument, history.plate);
    const double width = canvas.measure(name, k_lead * scale, Weight::bold).width + 18.0 * scale;
    line(canvas, name, take_left(box, std::min(width, 0.6 * box.width())),
         {.colour = p.ink, .height = k_lead * scale, .weight = Weight::bold});
    const auto& sessions = history.sessions;
    const auto open = std::find_if(sessions.begin(), sessions.end(), [&](const auto& s) {
        return s.session.id == context.now.plate->session;
    });
    std::string second = what_plate(history.instrument.kind, history.plate.part);
    if (open != sessions.end()) {
        second += ", " + say("session {} of {}", open - sessions.begin() + 1, sessions.size());
    }
    const std::string_view hint = say("F12: the guide to this view");
    const double hinted =
        canvas.measure(hint, k_small * scale, Weight::regular).width + 4.0 * scale;
    const double said =
        canvas.measure(second, k_body * scale, Weight::regular).width + 24.0 * scale;
    if (said + hinted <= box.width()) { // where there is no room the key does it all the same
        line(canvas, hint, take_right(box, hinted),
             {.colour = p.faint_ink, .height = k_small * scale, .across = plot::Across::right});
    }
    const double size =
        fitting(canvas, second, box.width(), Weight::regular, {k_body * scale, k_small * scale});
    if (canvas.measure(second, size, Weight::regular).width <= box.width()) {
        line(canvas, second, box, {.colour = p.faint_ink, .height = size});
    }
}

/// As high as its sentence is long; nothing where none is to be read.
double Desk::notice_height(const ViewContext& context, double width) const {
    if (unread(context.now, notices_read_) == nullptr) {
        return 0.0;
    }
    const double scale = context.look.scale;
    const double words = width - (24.0 + 12.0 + 14.0 + k_understood + k_sign) * scale;
    const double needed =
        paragraph_height(context.canvas(), unread(context.now, notices_read_)->text, words,
                         k_body * scale, Weight::bold);
    return std::max(50.0 * scale, needed + 20.0 * scale);
}

/// One sentence, until it is put away.
void Desk::notice(const ViewContext& context, Box box) {
    if (unread(context.now, notices_read_) == nullptr) {
        return;
    }
    const bench::Notice& newest = *unread(context.now, notices_read_);
    const plot::Palette& p = context.palette();
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    box = {box.left + 12.0 * scale, box.top, box.right - 12.0 * scale, box.bottom - 6.0 * scale};
    const plot::Colour ink = newest.grave ? p.on_bad : p.on_caution;
    sheet(canvas, context.look, box, newest.grave ? p.bad : p.caution);
    Box rest = inset(box, 6.0 * scale);
    const bool away =
        press(context, say("Understood"), take_right(rest, k_understood * scale), "Esc");
    const Box sign = take_left(rest, k_sign * scale);
    canvas.mark({0.5 * (sign.left + sign.right), 0.5 * (sign.top + sign.bottom)},
                newest.grave ? plot::Shape::cross : plot::Shape::triangle, 0.5 * sign.width(), ink);
    const Box words{rest.left + 6.0 * scale, rest.top, rest.right - 8.0 * scale, rest.bottom};
    const double needed =
        paragraph_height(canvas, newest.text, words.width(), k_body * scale, Weight::bold);
    paragraph(canvas, newest.text,
              {words.left, words.top + 0.5 * (words.height() - needed), words.right, words.bottom},
              k_body * scale, ink, Weight::bold);
    if (away || context.keys.take(Key::escape)) {
        notices_read_ = newest.number;
    }
}

} // namespace platewright::screen
