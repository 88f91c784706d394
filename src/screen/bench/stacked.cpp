#include "screen/bench/bench_view.hpp"
#include "screen/bench/decision_strip.hpp"
#include "screen/bench/lanes.hpp"
#include "screen/bench/verdict_band.hpp"
#include "screen/draw/parts.hpp"

#include <algorithm>
#include <string>
#include <vector>

// The bench with letters too large for its parts beside each other. It is read from two metres with
// both hands full, so nothing of it scrolls: the answer and the three lanes stay, what is lesser
// goes as room goes.

namespace platewright::screen {
namespace {
using plot::Box;
using plot::Weight;

constexpr double k_answer = 66.0;
constexpr double k_lane_row = 82.0; // a lane's letters and no more
constexpr double k_stacked_gap = 4.0;
constexpr double k_naming = 74.0;

/// What has room above the lanes; the rest is counted, and stands with the plate.
struct Room {
    bool sentence = false, reason = false;
    std::size_t doubts = 0; // the first so many
    int missing = 0;
};

Room room_of(const ViewContext& context, const Box& area) {
    const double scale = context.look.scale, gap = k_stacked_gap * scale;
    double spare = area.height() - 3.0 * k_lane_row * scale;
    const auto fits = [&spare](double height) {
        const bool room = height <= spare;
        spare -= room ? height : 0.0;
        return room;
    };
    Room room;
    room.reason = fits(decision_height(context, area.width()) + gap);
    room.sentence = room.reason || fits(decision_height(context, area.width(), false) + gap);
    const std::vector<std::string> doubts = doubts_of(*context.now.plate);
    while (room.doubts < doubts.size() &&
           fits(doubt_height(context, doubts[room.doubts], area.width()))) {
        ++room.doubts;
    }
    const bool has_reason = !decision_reason(context).empty();
    room.missing = (room.sentence ? 0 : 1) + (has_reason && !room.reason ? 1 : 0) +
                   static_cast<int>(doubts.size() - room.doubts);
    return room;
}

std::vector<std::string> missing(const ViewContext& context, const Room& room) {
    std::vector<std::string> words;
    if (!room.sentence) {
        words.push_back(decision_sentence(context));
    }
    if (!room.reason) {
        words.push_back(decision_reason(context));
    }
    const std::vector<std::string> doubts = doubts_of(*context.now.plate);
    words.insert(words.end(), doubts.begin() + static_cast<std::ptrdiff_t>(room.doubts),
                 doubts.end());
    std::erase(words, std::string());
    return words;
}

} // namespace

void BenchView::draw_stacked(const ViewContext& context, Box area) {
    const double scale = context.look.scale, gap = k_stacked_gap * scale;
    if (side_.writing()) {
        side_.draw_wide(context, area);
        return;
    }
    if (naming_.is_open()) { // there is no answer to be waited for meanwhile
        naming_.draw(context, take_top(area, k_naming * scale));
        take_top(area, gap);
        draw_lanes(context, area);
        return;
    }
    ImguiCanvas canvas = context.canvas();
    Box head = take_top(area, k_answer * scale);
    take_top(area, gap);
    const Room room = room_of(context, area);
    const std::string other = aside_             ? say("Figures")
                              : room.missing > 0 ? say("{} more", room.missing)
                                                 : say("More");
    const double width = canvas.measure(other, k_body * scale, Weight::bold).width + 56.0 * scale;
    if (press(context, other, take_right(head, width), "X") || context.keys.take(U'x')) {
        aside_ = !aside_;
    }
    take_right(head, gap);
    draw_verdict(context, head);
    const auto decide = [&](bool reasoned) {
        const double height = decision_height(context, area.width(), reasoned);
        draw_decision(context, take_top(area, height), reasoned);
        take_top(area, gap);
    };
    const auto doubt = [&](const std::string& words) {
        draw_doubt(context, words,
                   take_top(area, doubt_height(context, words, area.width()) - gap));
        take_top(area, gap);
    };
    if (aside_) {
        for (const std::string& words : missing(context, room)) {
            area.top += paragraph(canvas, words, area, k_small * scale, context.palette().ink);
            take_top(area, gap);
        }
        take(context, side_.draw_wide(context, area));
    } else {
        if (room.sentence) {
            decide(room.reason);
        }
        const std::vector<std::string> doubts = doubts_of(*context.now.plate);
        for (std::size_t i = 0; i < room.doubts; ++i) {
            doubt(doubts[i]);
        }
        draw_lanes(context, area);
    }
    if (!side_.writing() && context.keys.take_any()) {
        strike_at_next_spot(context);
    }
}

} // namespace platewright::screen
