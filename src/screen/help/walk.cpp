#include "screen/help/walk.hpp"

#include <algorithm>
#include <array>

namespace platewright::screen {
namespace {
using plot::Box;
using plot::Weight;
using trends::Advice;

constexpr int k_strikes = 9; // three at the centre, an end and an edge, for modes 5, 2 and 1
constexpr int k_walk_steps = 5;
constexpr double k_walk_pad = 8.0, k_button = 38.0, k_button_gap = 6.0;
constexpr double k_mark = 20.0; // from one step's disc to the next

bool is_on_its_plate(const ViewContext& context) {
    return context.now.plate && context.now.recorded &&
           context.now.plate->history.plate.label == context.now.recorded->plate;
}

bool is_at_the_bench(const ViewContext& context) {
    return context.place == Place::bench && is_on_its_plate(context);
}

/// What the sentence may advise, in words: the three that a maker chooses between, and what it says
/// where that is another.
struct Choice {
    Advice advice;
    std::string_view words;
};

std::vector<Choice> choices(const ViewContext& context) {
    std::vector<Choice> all{{Advice::tap, say("tap on")},
                            {Advice::take, say("take wood")},
                            {Advice::stop, say("stop here")}};
    const Advice said = context.now.plate->decision.advice;
    if (said == Advice::weigh) {
        all.front() = {Advice::weigh, say("weigh it")};
    } else if (said == Advice::measure) {
        all.front() = {Advice::measure, say("measure first")};
    } else if (said == Advice::set_goal) {
        all.front() = {Advice::set_goal, say("set a goal")};
    } else if (said == Advice::other_goal) {
        all.front() = {Advice::other_goal, say("set a goal")};
    }
    return all;
}

double marks_width(const ViewContext& context) {
    return (k_walk_steps * k_mark + k_walk_pad) * context.look.scale;
}

/// Smaller where two lines would not do.
double word_size(const ViewContext& context, std::string_view words, double width) {
    const double large = k_body * context.look.scale;
    const ImguiCanvas canvas = context.canvas();
    const double two = 2.1 * paragraph_height(canvas, "A", width, large, Weight::bold);
    return paragraph_height(canvas, words, width, large, Weight::bold) <= two
               ? large
               : k_small * context.look.scale;
}

double button_width(const ViewContext& context, std::string_view words, std::string_view key) {
    const double scale = context.look.scale;
    const ImguiCanvas canvas = context.canvas();
    return canvas.measure(words, k_body * scale, Weight::bold).width +
           canvas.measure(key, k_small * scale, Weight::bold).width + 44.0 * scale;
}

} // namespace

void Walk::begin(const ViewContext& context) {
    if (!context.now.recorded) {
        return;
    }
    *this = {};
    state_ = State::on;
    context.place = Place::bench;
    context.send(bench::command::HearRecorded{true});
}

void Walk::leave(const ViewContext& context) {
    if (state_ == State::on) {
        context.send(bench::command::HearRecorded{false});
    }
    state_ = State::away;
}

/// The bench has enough to decide by, whatever the walk would still show.
bool Walk::suffices(const ViewContext& context) {
    return context.good_taps() > 0 && context.now.plate->decision.advice != Advice::tap;
}

bool Walk::has_happened(const ViewContext& context) const {
    const ledger::SessionHistory* session = context.session();
    switch (step_) {
    case Step::session:
        return session != nullptr && (goes_on_ || session->session.id != *session_before_);
    case Step::spot:
        return context.now.striking_at != taps::Spot::unknown;
    case Step::strikes:
        return context.good_taps() >= k_strikes ||
               (suffices(context) && session != nullptr &&
                (session->session.mass_g || context.closed_session == session->session.id));
    case Step::mass:
        return session != nullptr && session->session.mass_g.has_value();
    case Step::decision:
        return answered_;
    case Step::end:
        break;
    }
    return false;
}

void Walk::answer(const ViewContext& context, Advice advice) {
    answered_ = advice == context.now.plate->decision.advice;
    misread_ = !answered_;
}

void Walk::follow(const ViewContext& context) {
    if (start_ == FirstWalk::begun) {
        begin(context);
    } else if (start_ == FirstWalk::offered) {
        state_ = context.now.recorded ? State::offered : State::away;
    }
    start_ = FirstWalk::none;
    if (state_ == State::offered && context.place == Place::bench && context.keys.take(U'w')) {
        begin(context);
    }
    if (state_ != State::on || !is_at_the_bench(context) || context.is_behind) {
        return;
    }
    if (!session_before_) {
        session_before_ = context.now.plate->session;
        goes_on_ = context.session() != nullptr && context.session()->taps.empty();
    }
    if (context.keys.take(U'a') && step_ == Step::strikes) { // else no foot switch either
        context.send(bench::command::StrikeRecorded{});
    }
    if (step_ == Step::decision) {
        const std::vector<Choice> all = choices(context);
        for (std::size_t i = 0; i < all.size(); ++i) {
            if (context.keys.take(U"123"[i])) {
                answer(context, all[i].advice);
            }
        }
    }
    if (step_ == Step::end && context.keys.take(U'w')) {
        begin(context);
        return;
    }
    while (has_happened(context)) {
        step_ = static_cast<Step>(static_cast<int>(step_) + 1);
    }
}

std::string Walk::asked(const ViewContext& context) const {
    switch (step_) {
    case Step::session:
        return say("A session is one visit to the bench with a plate: N begins one.");
    case Step::spot:
        return say("The program wants to know where you strike: Space goes from spot "
                   "to spot. Begin at the centre.");
    case Step::strikes: {
        const int next = context.good_taps() + 1;
        return context.now.tap && context.now.tap->fate == bench::TapFate::refused
                   ? say("That one was refused, as the top says; it does not count. Strike {} of "
                         "{}: A once more.",
                         next, k_strikes)
               : suffices(context)
                   ? say("Strike {} of {} (A), at another spot: names get surer. The bench has "
                         "enough to decide by: W goes on to the mass.",
                         next, k_strikes)
                   : say("Strike {} of {}: A strikes the plate. The answer stands at the top; "
                         "after three good ones the spot goes on by itself.",
                         next, k_strikes);
    }
    case Step::mass:
        // The key that the bench shows beside its decision; while that wants taps, the other one.
        return say("The balance reads {} g: {}, then type it as the mass, then Enter.",
                   figure(context.now.recorded->mass_g, 1),
                   context.now.plate->decision.advice == Advice::tap ? "E" : "W");
    case Step::decision:
        if (misread_ && context.stacks) { // where large letters may leave no room for it
            return say("Not that. It says: {}", trends::sentence_of(context.now.plate->decision));
        }
        return misread_ ? say("Not that: read it once more.")
                        : say("Read the sentence below the three figures. What does it advise?");
    case Step::end:
        break;
    }
    return {};
}

std::string Walk::words(const ViewContext& context) const {
    if (state_ == State::offered) {
        return say("A first walk: one session and one decision on this invented plate, in five "
                   "minutes. You strike with a key; its strikes were recorded.");
    }
    if (step_ == Step::end) {
        return say("That was one session and one decision. F2 shows the way to here, F12 explains "
                   "each view. Wood taken off can't be put back: the program advises, you decide.");
    }
    if (!is_at_the_bench(context)) {
        return say("The walk goes on at the bench (F1), with the plate “{}”.",
                   context.now.recorded->plate);
    }
    return say("Step {} of 5. {}", static_cast<int>(step_) + 1, asked(context));
}

std::vector<Walk::Button> Walk::buttons(const ViewContext& context) {
    const auto begins = [this, &context] { begin(context); };
    const auto leaves = [this, &context] { leave(context); };
    if (state_ == State::offered) {
        return {{say("Begin the walk"), "W", Stress::strong, begins},
                {say("Not now"), "Esc", Stress::plain, leaves}};
    }
    std::vector<Button> all;
    if (step_ == Step::end) {
        all.push_back({say("Once more"), "W", Stress::plain, begins});
    } else if (is_at_the_bench(context) && step_ == Step::strikes) {
        all.push_back({say("Strike"), "A", Stress::strong,
                       [&context] { context.send(bench::command::StrikeRecorded{}); }});
    } else if (is_at_the_bench(context) && step_ == Step::decision) {
        constexpr std::array<std::string_view, 3> keys{"1", "2", "3"};
        const std::vector<Choice> choose = choices(context);
        for (std::size_t i = 0; i < choose.size(); ++i) {
            all.push_back(
                {choose[i].words, keys.at(i), Stress::plain,
                 [this, &context, advice = choose[i].advice] { answer(context, advice); }});
        }
    }
    all.push_back(
        {step_ == Step::end ? say("Done") : say("Leave the walk"), "Esc", Stress::plain, leaves});
    return all;
}

/// From the right; what is left of `box` is for the words. Stacked: from the left, in rows.
void Walk::draw_buttons(const ViewContext& context, Box& box) {
    const std::vector<Button> all = buttons(context);
    const double scale = context.look.scale, gap = k_button_gap * scale;
    Box row;
    for (std::size_t i = 0; i < all.size(); ++i) {
        const Button& one = context.stacks ? all[i] : all[all.size() - 1 - i];
        const double width = button_width(context, one.words, one.key);
        if (context.stacks && row.width() < width) {
            row = take_top(box, k_button * scale);
            take_top(box, gap);
        }
        Box& from = context.stacks ? row : box;
        const Box at = context.stacks ? take_left(from, width) : take_right(from, width);
        if (press(context, one.words, at, one.key, one.stress)) {
            one.act();
            return; // what stands beside it is of another step now
        }
        context.stacks ? take_left(from, gap) : take_right(from, gap);
    }
}

double Walk::height(const ViewContext& context, double width) {
    if (state_ == State::away) {
        return 0.0;
    }
    const double scale = context.look.scale, pads = 2.0 * k_walk_pad * scale;
    const std::string told = words(context);
    if (context.stacks) {
        double rows = 0, left = 0;
        for (const Button& one : buttons(context)) {
            const double needed = button_width(context, one.words, one.key);
            rows += left < needed ? 1 : 0;
            left = (left < needed ? width - pads : left) - needed - k_button_gap * scale;
        }
        return paragraph_height(context.canvas(), told, width - pads, k_small * scale,
                                Weight::bold) +
               rows * (k_button + k_button_gap) * scale + pads;
    }
    double beside = width - pads - marks_width(context);
    for (const Button& one : buttons(context)) {
        beside -= button_width(context, one.words, one.key) + k_button_gap * scale;
    }
    const double size = word_size(context, told, beside);
    return pads + std::max(k_button * scale,
                           paragraph_height(context.canvas(), told, beside, size, Weight::bold));
}

/// A disc for each step: filled once it has happened, a large ring for the one that comes.
void Walk::marks(const ViewContext& context, const Box& box) const {
    const plot::Palette& p = context.palette();
    const double scale = context.look.scale, pitch = k_mark * scale;
    ImguiCanvas canvas = context.canvas();
    for (int i = 0; i < k_walk_steps; ++i) {
        const bool done = state_ == State::on && i < static_cast<int>(step_);
        const bool now = state_ == State::on && i == static_cast<int>(step_);
        canvas.mark({box.left + (i + 0.5) * pitch, 0.5 * (box.top + box.bottom)},
                    done ? plot::Shape::disc : plot::Shape::ring, (now ? 0.8 : 0.6) * pitch,
                    done || now ? p.accent : p.faint_ink);
    }
}

void Walk::draw(const ViewContext& context, Box box) {
    if (state_ == State::away || box.height() <= 0.0) { // begun within this picture
        return;
    }
    const plot::Palette& p = context.palette();
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    sheet(canvas, context.look, box, p.panel);
    canvas.box({box.left, box.top, box.left + 4.0 * scale, box.bottom}, p.accent, 0.0);
    const std::string told = words(context);
    Box rest = inset(box, k_walk_pad * scale);
    if (context.stacks) {
        rest.top += paragraph(canvas, told, rest, k_small * scale, p.ink, Weight::bold);
        draw_buttons(context, rest);
    } else {
        const double middle = 0.5 * (rest.top + rest.bottom);
        Box right{rest.left, middle - 0.5 * k_button * scale, rest.right,
                  middle + 0.5 * k_button * scale};
        marks(context, take_left(rest, marks_width(context)));
        draw_buttons(context, right);
        rest.right = right.right;
        const double size = word_size(context, told, rest.width());
        rest.top = middle - 0.5 * paragraph_height(canvas, told, rest.width(), size, Weight::bold);
        paragraph(canvas, told, rest, size, p.ink, Weight::bold);
    }
    if (context.keys.take(Key::escape)) {
        leave(context);
    }
}

} // namespace platewright::screen
