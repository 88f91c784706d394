#pragma once
#include "modes/name/name.hpp"
#include "trends/decision/outlook.hpp"
#include "trends/decision/pass_rule.hpp"
#include "trends/drift/comparison.hpp"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace platewright::trends {

/// The plate's targets; without any, modes 1, 2 and 5 of the reference it is set against.
std::vector<Goal> goals_of(const ledger::PlateHistory& history,
                           const Comparison* comparison = nullptr);

/// What the bench advises next.
enum class Advice {
    tap,        ///< more taps: the figures do not bear a decision yet
    set_goal,   ///< enough taps, and nothing to decide by
    stop,       ///< a goal is reached, within what can be told, or passed
    weigh,      ///< the mass is wanted before grams can be named
    measure,    ///< what narrows the forecast, before wood: the doubt, not the gap, limits the pass
    take,       ///< wood, so many grams at most, then tap again
    other_goal, ///< thinning, within the plan's limits, does not lead to the goal
};

/// Whether the answer is wood, or what comes before it.
bool is_of_wood(Advice advice);

/// Whether the plate's model is asked first: before wood, and before it is called enough, for the
/// model knows what earlier sessions tell of now.
bool asks_model(Advice advice);

/// A measurement that is worth its minutes before wood is taken.
struct MeasureFirst {
    std::string what;   ///< in a sentence; empty: there is none
    int number = 0;     ///< the mode whose forecast gains most
    double remains = 1; ///< of that forecast's deviation
    double minutes = 0;
};

/// What the plate's model foresees of the wood that leads to the goals, all of it.
struct PassForesight {
    std::vector<Goal> goals; ///< that it is towards; for others it says nothing
    struct Fall {
        int number = 0;
        FadingPerGram there; ///< by a gram of it (at_the_place); negative where the mode rises
    };
    std::vector<Fall> falls; ///< a mode each
    double wood_g = 0;       ///< 0: there is none to take
    std::string where;       ///< in a maker's words: the parts that hold most of it
    MeasureFirst first;
    /// Even all of that wood leaves a goal unreached, and no other goal holds it back: the limits
    /// below do.
    bool is_limited = false;
    double least_mm = 0, deepest_mm = 0; ///< no place thinner, no hollow deeper
    struct Now {
        int number = 0;
        Level level; ///< by all sessions that the model carries to now
    };
    std::vector<Now> levels;
};

inline constexpr int k_least_taps = 3; ///< of a mode, for a spread to mean anything

/// The answer to "stop, or take more?", with what it rests on. Frequencies in Hz, masses in g;
/// intervals are of 95 %, but for the grams, whose limits each are passed with a chance of 10 %.
struct Decision {
    Advice advice = Advice::tap;
    int number = 0; ///< the mode that decides; 0 where none does
    double now_hz = 0,
           doubt_hz =
               0; ///< of that mode: half the width of the interval, hold and hanging included
    double goal_hz = 0;
    bool of_reference = false; ///< that is the reference's frequency, no target
    int sessions = 1;          ///< that tell where it is now
    bool passed = false;       ///< beyond the goal by more than the doubt
    int taps_wanted = 0;       ///< with Advice::tap: how many more, at `spot`
    taps::Spot spot = taps::Spot::unknown;
    bool by_hand = false;     ///< with Advice::tap: there it was struck in vain, the maker names it
    bool other_plate = false; ///< with Advice::tap: the last one rang like another plate's
    double take_g = 0;        ///< with Advice::take: at the most
    std::optional<Interval>
        grams;               ///< until the goal is measured, by this plate's own weighed sessions
    bool by_history = false; ///< take_g rests on the plate's own sessions
    bool by_model = false;   ///< and on its model, for the place; neither: on plates in general
    std::string where;       ///< the wood comes off best; empty where the model does not tell
    MeasureFirst first;      ///< with Advice::measure
    double lowest_hz = 0,
           lowest_doubt_hz = 0;          ///< with Advice::other_goal: where all that may go leads
    double least_mm = 0, deepest_mm = 0; ///< with it: the limits that hold it
    double usual_pass_g = 0;             ///< the pass the maker usually takes
    std::optional<double> past_it;       ///< the chance that such a pass goes beyond the goal
};

/// What a decision is made from; all of it in one air where the history is.
struct Standing {
    const ledger::PlateHistory* history = nullptr;
    const ledger::SessionHistory* session = nullptr; ///< the open one, of that history; null: none
    std::optional<taps::Spot>
        ask_spot; ///< a tap there would settle the greatest doubt about a name
    std::span<const Goal> goals;
    std::span<const TargetOutlook> outlooks;  ///< one a goal, in order
    const PassForesight* foresight = nullptr; ///< that the outlooks took word of; null: none
};

/// What the model foresees of a session, into the outlook of each goal; into none where it was
/// asked for other goals, or sees no wood to take.
void take_word_of_model(std::span<TargetOutlook> outlooks, std::span<const Goal> goals,
                        const ledger::SessionHistory& session, const PassForesight& foresight);

/// In this order: a last tap that rang like another plate; taps that are too few or too wide apart,
/// a name in doubt that a tap would settle; a goal passed or reached; a session not weighed; a goal
/// that the model's limits surely (97.5 %) keep out of reach; wood.
/// Of several goals the one that is reached first decides, for wood that is gone serves all of them
/// at once. Never more than half of what is expected to be left: what comes off differs from what
/// was meant, and places differ in what a gram does (ours, no source). Without a forecast of its
/// own the plate is given what cannot overshoot even where a gram does three times what even
/// thinning does, f ∝ m (a membrane's or plate's fundamental by its thickness; L. Cremer, The
/// Physics of the Violin, ch. 11, from memory). Pure.
Decision decide(const Standing& now);

/// The decision in one sentence, and its one reason; the same on bench, drift, paper and terminal.
std::string sentence_of(const Decision& decision);
std::string reason_of(const Decision& decision);

/// What is in doubt about the names, for who reads the decision beside it: the spot that would
/// settle it stands there unless the decision names one itself. Empty where nothing is in doubt.
std::string doubt_beside(const modes::Naming& naming, const Decision& decision);

} // namespace platewright::trends
