#include "screen/answer_strip.hpp"

#include "base/text.hpp"
#include "screen/parts.hpp"

#include <algorithm>
#include <string>

namespace platewright::screen {
namespace {
using plot::Box;
using plot::Shape;
using plot::Weight;

std::string_view remedy(taps::Verdict verdict) {
    switch (verdict) {
    case taps::Verdict::accepted:
        return "";
    case taps::Verdict::too_weak:
        return say("Strike harder, or bring the microphone nearer.");
    case taps::Verdict::clipped:
        return say("Strike more softly, or turn the input down.");
    case taps::Verdict::struck_twice:
        return say("Let the hammer spring back, and let it ring out.");
    case taps::Verdict::noise_before:
        return say("Wait for quiet before the strike.");
    case taps::Verdict::too_short:
        return say("Let it ring: touch the plate on a nodal line only.");
    case taps::Verdict::no_ring:
        return say("That did not ring like a plate.");
    case taps::Verdict::gap:
        return say("Sound was lost on its way here; strike once more.");
    case taps::Verdict::stranger:
        return say("It rings like none of this session's taps. Y counts it all the same.");
    }
    return "";
}

/// What the hammer told of a kept tap, where it did not tell its force well; else nothing.
std::string_view force_trouble(const bench::TapView& tap) {
    switch (tap.force.value_or(modes::ForceVerdict::good)) {
    case modes::ForceVerdict::good:
        break;
    case modes::ForceVerdict::none:
        return say("no force came with it: look at the hammer's channel (F5)");
    case modes::ForceVerdict::clipped:
        return say("its force was clipped: strike softer, or turn its gain down");
    case modes::ForceVerdict::struck_twice:
        return say("the hammer pushed twice: its force does not count");
    }
    return {};
}

struct Answer {
    Shape shape = Shape::ring;
    std::string word;
    std::string beside;
    plot::Colour ground;
    plot::Colour ink;
};

Answer waiting(const Sight& sight) {
    const plot::Palette& p = sight.palette();
    const bench::InputStatus& input = sight.now.input;
    Answer answer{Shape::ring, std::string(say("Listening")), std::string(say("Tap the plate.")),
                  p.panel, p.ink};
    if (input.state == bench::InputState::ended) {
        answer.word = say("The recording is over");
        answer.beside = say("L plays it in once more.");
        answer.shape = Shape::square;
    } else if (input.state != bench::InputState::running) {
        answer.word = say("Not listening");
        answer.beside = input.trouble.empty()
                            ? std::string(say("L begins to listen, F5 chooses the microphone."))
                            : input.trouble;
        answer.shape = Shape::cross;
        answer.ground = p.caution;
        answer.ink = p.on_caution;
    } else if (input.silent) {
        answer.word = say("No sound");
        answer.beside =
            say("Nothing at all arrives from {}: it is muted, turned down, or not the one (F5).",
                input.name);
        answer.shape = Shape::cross;
        answer.ground = p.caution;
        answer.ink = p.on_caution;
    }
    return answer;
}

/// What the tap now ringing reads already: the named modes, else its strongest partials.
std::string first_reading(const Sight& sight) {
    std::string words;
    const auto add = [&words](const std::string& one) {
        words += (words.empty() ? "" : ",  ") + one;
    };
    for (const bench::NamedPartial& one : sight.now.tap->named) {
        add(std::to_string(one.number) + ": " + wording::figure(one.frequency_hz, 1));
    }
    if (words.empty()) {
        for (const modes::Partial& partial : sight.now.tap->record.partials) {
            if (partial.level_db > -12.0) {
                add(wording::figure(partial.frequency_hz, 1));
            }
        }
    }
    return words.empty() ? words : words + " Hz";
}

Answer answer_of(const Sight& sight) {
    const plot::Palette& p = sight.palette();
    if (!sight.now.tap || sight.now.input.state != bench::InputState::running) {
        return waiting(sight);
    }
    const bench::TapView& tap = *sight.now.tap;
    if (tap.fate == bench::TapFate::ringing) {
        const std::string reading = first_reading(sight);
        return {Shape::ring, std::string(say("Ringing")),
                reading.empty() ? std::string(say("Let it ring out.")) : reading, p.panel, p.ink};
    }
    if (tap.fate == bench::TapFate::not_kept) {
        return {Shape::triangle, std::string(say("Not kept")), tap.why_not_kept, p.caution,
                p.on_caution};
    }
    const std::string level = say("peak {} dBFS", signed_figure(tap.record.peak_dbfs, 0));
    if (tap.fate == bench::TapFate::kept) {
        const ledger::SessionHistory* session = sight.session();
        const std::string_view trouble = force_trouble(tap);
        const std::string also = !trouble.empty() ? std::string(trouble)
                                 : tap.began_session
                                     ? std::string(say("today's session was begun for it"))
                                 : tap.force ? level + ", " + std::string(say("with its force"))
                                             : level;
        const auto count =
            session == nullptr
                ? 0
                : std::count_if(session->taps.begin(), session->taps.end(),
                                [](const auto& t) { return t.verdict == taps::Verdict::accepted; });
        return {Shape::disc, std::string(say("Accepted")),
                say_count(count, "{} good tap", "{} good taps") + ", " + also, p.good, p.on_good};
    }
    if (tap.record.verdict == taps::Verdict::stranger) {
        return {Shape::triangle, std::string(taps::to_text(tap.record.verdict)),
                std::string(remedy(tap.record.verdict)), p.caution, p.on_caution};
    }
    return {Shape::cross, say("Refused: {}", taps::to_text(tap.record.verdict)),
            std::string(remedy(tap.record.verdict)), p.bad, p.on_bad};
}

/// The word above what is beside it else, each as large as there is room for.
void draw_answer_above(const Sight& sight, const Answer& answer, const Box& box) {
    const double scale = sight.look.scale;
    ImguiCanvas canvas = sight.canvas();
    Box words = inset(box, 4.0 * scale);
    const Box sign = take_left(words, 48.0 * scale);
    canvas.mark({0.5 * (sign.left + sign.right) - 3.0 * scale, 0.5 * (sign.top + sign.bottom)},
                answer.shape, 34.0 * scale, answer.ink);
    const bool one_row =
        canvas.measure(answer.beside, k_body * scale, Weight::regular).width <= words.width();
    const double small = (one_row ? k_body : k_small) * scale;
    const double below = paragraph_height(canvas, answer.beside, words.width(), small);
    double height = k_body * scale;
    for (const double larger : {k_lead * scale, k_delta * scale}) {
        if (canvas.measure(answer.word, larger, Weight::bold).width <= words.width() &&
            larger + below <= words.height()) {
            height = larger;
        }
    }
    words.top += 0.5 * (words.height() - height - below);
    line(canvas, answer.word, take_top(words, height),
         {.colour = answer.ink, .height = height, .weight = Weight::bold});
    paragraph(canvas, answer.beside, words, small, answer.ink);
}

} // namespace

void draw_answer(const Sight& sight, const Box& box) {
    const Answer answer = answer_of(sight);
    const double scale = sight.look.scale;
    ImguiCanvas canvas = sight.canvas();
    sheet(canvas, sight.look, box, answer.ground);
    if (sight.stacks) {
        draw_answer_above(sight, answer, box);
        return;
    }
    Box words = inset(box, 10.0 * scale);
    const Box sign = take_left(words, words.height() + 10.0 * scale);
    canvas.mark({sign.left + 0.5 * words.height() + 4.0 * scale, 0.5 * (sign.top + sign.bottom)},
                answer.shape, 0.7 * words.height(), answer.ink);
    const double word_height = k_delta * scale;
    const double width = canvas.measure(answer.word, word_height, Weight::bold).width;
    line(canvas, answer.word, take_left(words, std::min(width + 24.0 * scale, words.width())),
         {.colour = answer.ink, .height = word_height, .weight = Weight::bold});
    const double fits = canvas.measure(answer.beside, k_lead * scale, Weight::regular).width;
    line(canvas, answer.beside, words,
         {.colour = answer.ink, .height = (fits <= words.width() ? k_lead : k_body) * scale});
}

void draw_tap_strip(const Sight& sight, const Box& box) {
    const ledger::SessionHistory* session = sight.session();
    const plot::Palette& p = sight.palette();
    const double scale = sight.look.scale;
    ImguiCanvas canvas = sight.canvas();
    if (session == nullptr || session->taps.empty()) {
        line(canvas, say("No taps in this session yet."), box,
             {.colour = p.faint_ink, .height = k_body * scale});
        return;
    }
    const double height = k_body * scale;
    double right = box.right;
    const double middle = 0.5 * (box.top + box.bottom);
    const int outlier = sight.now.plate->outlier_tap;
    for (std::size_t i = session->taps.size(); i-- > 0;) {
        const ledger::TapRecord& tap = session->taps[i];
        const bool good = tap.verdict == taps::Verdict::accepted;
        const bool apart = good && static_cast<int>(i) == outlier;
        std::string words = std::to_string(i + 1);
        words += good ? (apart ? " " + std::string(say("stands apart")) : std::string())
                      : " " + std::string(taps::to_text(tap.verdict));
        const double width = canvas.measure(words, height, Weight::bold).width + 2.4 * height;
        if (right - width < box.left) {
            break;
        }
        const Box chip{right - width, middle - 0.95 * height, right, middle + 0.95 * height};
        const plot::Colour ground = apart ? p.caution : good ? p.good : p.bad;
        const plot::Colour ink = apart ? p.on_caution : good ? p.on_good : p.on_bad;
        canvas.box(chip, ground, 0.95 * height);
        canvas.mark({chip.left + 0.95 * height, middle},
                    apart  ? Shape::triangle
                    : good ? Shape::disc
                           : Shape::cross,
                    0.7 * height, ink);
        canvas.text({chip.left + 1.7 * height, middle}, words,
                    {.colour = ink, .height = height, .weight = Weight::bold});
        right = chip.left - 0.5 * height;
    }
}

} // namespace platewright::screen
