#include "screen/rail.hpp"

#include "screen/draw/parts.hpp"
#include "screen/fields/fields.hpp"

#include <array>

namespace platewright::screen {
namespace {
using plot::Box;

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

} // namespace

void take_doors(Keys& keys, Place& place) {
    for (const Door& door : k_doors) {
        if (keys.take(door.key)) {
            place = door.place;
            hide_focus();
        }
    }
}

void draw_rail(const ViewContext& context, Box box) {
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
        const Stress stress = door.place == context.place ? Stress::chosen : Stress::plain;
        if (low ? press(context, say(door.words), at, {}, stress)
                : press_door(context, say(door.words), at, door.cap, stress)) {
            context.place = door.place;
        }
        take_top(box, gap);
    }
    const Box light = take_bottom(box, low ? height : 44.0 * scale);
    if (press(context, context.preferences.dark ? say("Light") : say("Dark"), light,
              low ? "" : "D")) {
        context.preferences.dark = !context.preferences.dark;
    }
}

} // namespace platewright::screen
