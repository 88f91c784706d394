#pragma once
#include <array>
#include <optional>
#include <string_view>

namespace platewright::taps {

/// What became of a strike: accepted, or refused with a reason.
enum class Verdict {
    accepted,
    too_weak,     ///< rings too little above the room's noise
    clipped,      ///< the microphone or the input ran into full scale
    struck_twice, ///< a second strike before the first had rung out
    noise_before, ///< something sounded just before the strike
    too_short,    ///< stopped, or the sound ended, before it could ring
    no_ring,      ///< a knock, a voice, a bump: nothing that decays as a plate does
    gap,          ///< samples were lost while it rang
    stranger,     ///< rings well, but like none of the session's other taps: another plate, perhaps
    weighed,      ///< rings well, with a mass laid on the plate: counts for that, not for its modes
    doubtful,     ///< may have rung: too little of it, or too short, to be told from a knock
    vouched,      ///< doubtful or a stranger by its sound; counts by the maker's word
};
inline constexpr std::array k_verdicts{
    Verdict::accepted,     Verdict::too_weak,  Verdict::clipped,  Verdict::struck_twice,
    Verdict::noise_before, Verdict::too_short, Verdict::no_ring,  Verdict::gap,
    Verdict::stranger,     Verdict::weighed,   Verdict::doubtful, Verdict::vouched};

/// Whether a strike of this verdict counts for the plate's modes.
constexpr bool counts(Verdict verdict) {
    return verdict == Verdict::accepted || verdict == Verdict::vouched;
}

/// Whether it rang as it should, and has partials: it counts for the plate, or for the mass on it.
constexpr bool rings(Verdict verdict) { return counts(verdict) || verdict == Verdict::weighed; }

/// Whether it may count by the maker's word: its partials were read.
constexpr bool is_in_question(Verdict verdict) {
    return verdict == Verdict::stranger || verdict == Verdict::doubtful;
}

/// The word files, JSON and the database carry ("struck_twice").
std::string_view to_word(Verdict verdict);
std::optional<Verdict> verdict_from_word(std::string_view word);

/// The maker's plain words ("struck twice").
std::string_view to_text(Verdict verdict);

} // namespace platewright::taps
