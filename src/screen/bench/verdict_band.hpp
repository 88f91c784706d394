#pragma once
#include "screen/view_context.hpp"

#include <memory>
#include <string>
#include <vector>

namespace platewright::screen {

enum class Sign { hook, crossed, exclaim, question, waves, open, closed, barred };

struct Field {
    plot::Colour ground, ink;
    bool solid = false;  // answers a strike, or says that none is heard
    bool barred = false; // edged with slanted bars
};

/// What the band says just now.
struct Verdict {
    Sign sign = Sign::open;
    std::string word, beside;
    Field field;
    double freshness = 0.0;                     // 1: just now, 0: old, or not of a strike
    std::shared_ptr<const Verdict> before = {}; // the strike it listens since
};

/// Asks for a picture in a second while an answer ages.
Verdict verdict_of(const ViewContext& context);

/// "2 refused: struck twice"; empty where none was.
std::string refused_words(const ViewContext& context);

/// What became of the last strike, to be read from across the workshop: a solid field whose
/// luminance, form and word are its own for each state, and one tick a planned tap. It ages: a line
/// at its foot runs out, then the band listens again and keeps the last answer at its left.
void draw_verdict(const ViewContext& context, const plot::Box& box);

/// The same without the ticks, in a box of any height: for where there is no session.
void draw_verdict_alone(const ViewContext& context, const plot::Box& box);

/// Taps of one hold, towards the mode they are struck for; 0: any.
struct PlannedTaps {
    int mode = 0;
    int kept = 0;
    int planned = 0;
    bool now = false; // struck at just now
};
/// The session's taps as they are meant: so many at each spot, or without spots as many as the
/// decision still wants.
std::vector<PlannedTaps> planned_taps(const ViewContext& context);

} // namespace platewright::screen
