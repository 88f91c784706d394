#include <array>

#include "base/words.hpp"
#include "taps/spot.hpp"
#include "taps/verdict.hpp"

namespace platewright::taps {
namespace {

using base::row_of;
using base::value_of;
using base::Word;

constexpr std::array k_verdict_names{
    Word{Verdict::accepted, "accepted", "accepted"},
    Word{Verdict::too_weak, "too_weak", "too weak"},
    Word{Verdict::clipped, "clipped", "clipped"},
    Word{Verdict::struck_twice, "struck_twice", "struck twice"},
    Word{Verdict::noise_before, "noise_before", "noise just before it"},
    Word{Verdict::too_short, "too_short", "too short"},
    Word{Verdict::no_ring, "no_ring", "no ring"},
    Word{Verdict::gap, "gap", "sound was lost"},
};

constexpr std::array k_spot_names{
    Word{Spot::unknown, "unknown", "anywhere"},
    Word{Spot::centre, "centre", "centre"},
    Word{Spot::upper_end, "upper_end", "upper end"},
    Word{Spot::lower_end, "lower_end", "lower end"},
    Word{Spot::upper_bout_left, "upper_bout_left", "upper bout, left"},
    Word{Spot::upper_bout_right, "upper_bout_right", "upper bout, right"},
    Word{Spot::waist_left, "waist_left", "waist, left"},
    Word{Spot::waist_right, "waist_right", "waist, right"},
    Word{Spot::lower_bout_left, "lower_bout_left", "lower bout, left"},
    Word{Spot::lower_bout_right, "lower_bout_right", "lower bout, right"},
};

} // namespace

std::string_view to_word(Verdict verdict) { return row_of(k_verdict_names, verdict).word; }
std::string_view to_text(Verdict verdict) { return row_of(k_verdict_names, verdict).text; }
std::optional<Verdict> verdict_from_word(std::string_view word) { return value_of(k_verdict_names, word); }

std::string_view to_word(Spot spot) { return row_of(k_spot_names, spot).word; }
std::string_view to_text(Spot spot) { return row_of(k_spot_names, spot).text; }
std::optional<Spot> spot_from_word(std::string_view word) { return value_of(k_spot_names, word); }

} // namespace platewright::taps
