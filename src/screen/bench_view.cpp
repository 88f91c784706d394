#include "screen/bench_view.hpp"

#include "base/text.hpp"
#include "plot/spectrum.hpp"
#include "screen/answer_strip.hpp"
#include "screen/decision_strip.hpp"
#include "screen/figure_panel.hpp"
#include "screen/naming_words.hpp"
#include "screen/parts.hpp"
#include "screen/pictures.hpp"
#include "screen/read_out.hpp"

#include <algorithm>

namespace platewright::screen {
namespace {

using plot::Box;
using plot::Weight;

constexpr double k_least_spectrum = 140.0; // lower, its letters lie on one another

/// For a window of 1280 × 800: with what the next gram does, where that can be said of any.
double figures_height(const bench::PlateView& plate) {
    const bool ahead = std::any_of(plate.figures.begin(), plate.figures.end(),
                                   [](const auto& f) { return f.forecast.has_value(); });
    return ahead ? 306.0 : 268.0;
}

} // namespace

const std::string& BenchView::doubt_words(const bench::PlateView& plate) {
    return plate.naming.doubt.empty() ? plate.repeatability : plate.naming.doubt;
}

void BenchView::draw(const Sight& sight, Box area) {
    const double scale = sight.look.scale;
    if (!sight.now.plate && (!sight.now.instruments || sight.now.instruments->empty())) {
        first_run_.draw(sight, area);
        return;
    }
    if (!sight.now.plate) {
        invite_to_plates(
            sight, area, say("No plate on the bench"),
            say("Choose the plate you are working on, or enter a new instrument and its "
                "plates. Then hang it up and tap."));
        return;
    }
    if (sight.session() == nullptr) {
        if (invitation(sight, area, say("No session yet"),
                       say("A session is one visit to the bench with this plate. Begin one, hold "
                           "or hang the plate at a nodal line, and tap."),
                       say("Begin a session"), "N") ||
            sight.keys.take(U'n')) {
            begin_session(sight);
        }
        return;
    }
    keys(sight);
    if (sight.stacks) {
        draw_stacked(sight, area);
        return;
    }
    const double gap = 10.0 * scale;
    draw_answer(sight, take_top(area, 70.0 * scale));
    take_top(area, 0.5 * gap);
    draw_tap_strip(sight, take_top(area, 40.0 * scale));
    take_top(area, 0.5 * gap);
    // With large letters the figures come first; all of the side's keys stay.
    const bool wide = area.width() >= 1050.0 * scale;
    if (side_.writing() && !wide) {
        side_.draw(sight, area);
        return;
    }
    if (wide) {
        if (side_.draw(sight, take_right(area, 250.0 * scale))) {
            naming_ = 0;
        }
        take_right(area, gap);
    }
    figures(sight, take_top(area, figures_height(*sight.now.plate) * scale));
    if (!doubt_words(*sight.now.plate).empty()) {
        take_top(area, 0.5 * gap);
        doubt(sight, take_top(area, 38.0 * scale));
    }
    if (naming_) { // no decision meanwhile: the question and the chart it points into need the room
        take_top(area, gap);
        name_a_mode(sight, take_bottom(area, 54.0 * scale));
        take_bottom(area, 0.5 * gap);
    } else {
        take_top(area, 0.5 * gap);
        Box room = area; // its reason gives way to the spectrum, the sentence to nothing
        room.bottom -= (k_least_spectrum + 10.0) * scale;
        double decided = draw_decision(sight, room);
        if (decided == 0.0) {
            decided = draw_decision(sight, area);
        }
        take_top(area, decided);
        take_top(area, gap);
    }
    if (area.height() >= k_least_spectrum * scale) { // the figures go first
        spectrum(sight, area);
    }
    // A foot switch: whatever key nothing on this view has taken.
    if (!naming_ && !side_.writing() && sight.keys.take_any()) {
        strike_at_next_spot(sight);
    }
}

void BenchView::keys(const Sight& sight) {
    if (side_.writing()) {
        return; // a form is open: its letters are words, also while no field has the cursor
    }
    if (sight.keys.take(Key::backspace)) {
        sight.send(bench::command::UndoTap{});
    }
    if (sight.keys.take(U'n')) {
        begin_session(sight);
    }
    if (!ImGui::GetIO().NavVisible && sight.keys.take(U' ')) {
        strike_at_next_spot(sight);
    }
    if (sight.now.tap && sight.now.tap->record.verdict == taps::Verdict::stranger &&
        sight.keys.take(U'y')) {
        sight.send(bench::command::CountTap{sight.now.tap->record.id});
    }
    if (sight.keys.take(U'r')) {
        sight.send(bench::command::RedoTap{});
    }
    if (sight.keys.take(U'e')) {
        if (sight.is_behind) { // N before it: the session it is meant for is only being begun
            sight.keys.type_next(U'e');
            sight.owed = std::max(sight.owed, 1);
        } else {
            side_.write(sight);
        }
    }
    const std::size_t count = sight.now.plate->naming.modes.size();
    if (sight.keys.take(U'm') && count > 0) {
        naming_ = naming_ ? std::nullopt : std::optional<std::size_t>(0);
    }
    if (naming_ && *naming_ >= count) {
        naming_.reset();
    }
    // While a mode is being named the arrows choose it, and do not move the focus as well.
    int& flags = ImGui::GetIO().ConfigFlags;
    flags = naming_ ? flags & ~ImGuiConfigFlags_NavEnableKeyboard
                    : flags | ImGuiConfigFlags_NavEnableKeyboard;
}

void BenchView::figures(const Sight& sight, Box box) const {
    const auto& all = sight.now.plate->figures;
    const double gap = 10.0 * sight.look.scale;
    const std::size_t shown = std::min<std::size_t>(all.size(), 3);
    if (shown == 0) {
        return;
    }
    const double width =
        (box.width() - gap * static_cast<double>(shown - 1)) / static_cast<double>(shown);
    for (std::size_t i = 0; i < shown; ++i) {
        draw_figure(sight, all[i], take_left(box, width));
        take_left(box, gap);
    }
}

/// What is not sure, and what would settle it.
void BenchView::doubt(const Sight& sight, const Box& box) const {
    const plot::Palette& p = sight.palette();
    const double scale = sight.look.scale;
    ImguiCanvas canvas = sight.canvas();
    sheet(canvas, sight.look, box, p.caution);
    canvas.mark({box.left + 22.0 * scale, 0.5 * (box.top + box.bottom)}, plot::Shape::triangle,
                16.0 * scale, p.on_caution);
    line(canvas, doubt_words(*sight.now.plate),
         {box.left + 42.0 * scale, box.top, box.right - 8.0 * scale, box.bottom},
         {.colour = p.on_caution, .height = k_body * scale});
}

void BenchView::spectrum(const Sight& sight, const Box& box) {
    const auto plate = sight.now.plate;
    const bool logarithmic = sight.wishes.logarithmic;
    const double scale = sight.look.scale;
    ImguiCanvas canvas = sight.canvas();
    sheet(canvas, sight.look, box);
    const ChartPane::Subject subject{plate, logarithmic ? 1 : 0,
                                     [&](const plot::Palette& palette) {
                                         return plot::spectrum_chart(
                                             spectrum_picture(*plate, logarithmic), palette);
                                     },
                                     "spectrum"};
    const Box inside = inset(box, 12.0 * scale);
    const plot::Frame frame =
        pane_.draw(sight, subject, inside, k_small * scale, ChartPane::Zooms::across);
    read_out(sight, frame);
    if (!pane_.empty()) { // in the row of the axis' title, which stands at its right
        pane_.keep_button(sight, subject,
                          {inside.left, inside.bottom - 17.0 * scale, inside.right - 150.0 * scale,
                           inside.bottom + 8.0 * scale});
    }
    if (naming_) {
        const double x = frame.across.place(plate->naming.modes[*naming_].mode.frequency_hz);
        canvas.box({x - 5.0 * scale, frame.inside.top, x + 5.0 * scale, frame.inside.bottom},
                   sight.palette().accent.faded(0.35), 0.0);
    }
}

BenchView::Said BenchView::naming_keys(const Sight& sight) {
    const auto& all = sight.now.plate->naming.modes;
    if (sight.keys.take(Key::left) && *naming_ > 0) {
        --*naming_;
    }
    if (sight.keys.take(Key::right) && *naming_ + 1 < all.size()) {
        ++*naming_;
    }
    Said said;
    said.done = sight.keys.take(Key::escape) || sight.keys.take(Key::enter);
    if (sight.keys.take(U'0')) {
        said.name = 0;
    }
    const std::vector<int> numbers = names_for(*sight.now.plate);
    for (std::size_t i = 0; i < numbers.size(); ++i) {
        if (sight.keys.take(U"123456"[i])) {
            said.name = numbers[i];
        }
    }
    return said;
}

void BenchView::name_a_mode(const Sight& sight, Box box) {
    Said said = naming_keys(sight);
    ImguiCanvas canvas = sight.canvas();
    sheet(canvas, sight.look, box, sight.palette().panel);
    if (sight.stacks) {
        stacked_naming(sight, inset(box, 5.0 * sight.look.scale), said);
    } else {
        naming_bar(sight, inset(box, 7.0 * sight.look.scale), said);
    }
    if (said.name) {
        const double hz = sight.now.plate->naming.modes[*naming_].mode.frequency_hz;
        sight.send(bench::command::NameMode{hz, *said.name == 0 ? std::nullopt : said.name});
    }
    if (said.done) {
        naming_.reset();
    }
}

void BenchView::naming_bar(const Sight& sight, Box box, Said& said) const {
    const bench::PlateView& plate = *sight.now.plate;
    const double scale = sight.look.scale;
    const modes::NamedMode& mode = plate.naming.modes[*naming_];
    ImguiCanvas canvas = sight.canvas();
    said.done |= press(sight, say("Done"), take_right(box, 110.0 * scale), "Esc");
    take_right(box, 8.0 * scale);
    if (press(sight, say("no name"), take_right(box, 140.0 * scale), "0")) {
        said.name = 0;
    }
    const bool of_body = plate.history.plate.part == modes::Part::body;
    const std::vector<int> numbers = names_for(plate);
    for (std::size_t i = numbers.size(); i-- > 0;) {
        take_right(box, 6.0 * scale);
        const bool now = mode.name && mode.name->number == numbers[i];
        if (press(sight, name_word(plate, numbers[i]),
                  take_right(box, (of_body ? 60.0 : 42.0) * scale), {},
                  now ? Stress::chosen : Stress::plain)) {
            said.name = numbers[i];
        }
    }
    line(canvas, naming_question(mode), box,
         {.colour = sight.palette().ink, .height = k_body * scale, .weight = Weight::bold});
}

} // namespace platewright::screen
