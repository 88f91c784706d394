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
