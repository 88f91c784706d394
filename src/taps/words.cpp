#include "base/words.hpp"

#include "taps/spot.hpp"
#include "taps/verdict.hpp"
#include "wording/catalogue.hpp"
#include "wording/say.hpp"

#include <array>
#include <cctype>
#include <string>
#include <string_view>
#include <utility>

namespace platewright::taps {
namespace {

using base::row_of;
using base::value_of;
using wording::say;

template <class T>
using Said = base::Word<T, wording::Phrase>;

constexpr std::array k_verdict_names{
    Said<Verdict>{Verdict::accepted, "accepted", "accepted"},
    Said<Verdict>{Verdict::too_weak, "too_weak", "too weak"},
    Said<Verdict>{Verdict::clipped, "clipped", "clipped"},
    Said<Verdict>{Verdict::struck_twice, "struck_twice", "struck twice"},
    Said<Verdict>{Verdict::noise_before, "noise_before", "noise just before it"},
    Said<Verdict>{Verdict::too_short, "too_short", "too short"},
    Said<Verdict>{Verdict::no_ring, "no_ring", "no ring"},
    Said<Verdict>{Verdict::gap, "gap", "sound was lost"},
    Said<Verdict>{Verdict::stranger, "stranger", "another plate?"},
    Said<Verdict>{Verdict::weighed, "weighed", "with a mass on"},
    Said<Verdict>{Verdict::doubtful, "doubtful", "hardly a ring"},
    Said<Verdict>{Verdict::vouched, "vouched", "counted by your word"},
};

constexpr std::array k_spot_names{
    Said<Spot>{Spot::unknown, "unknown", "anywhere"},
    Said<Spot>{Spot::centre, "centre", "centre"},
    Said<Spot>{Spot::upper_end, "upper_end", "upper end"},
    Said<Spot>{Spot::lower_end, "lower_end", "lower end"},
    Said<Spot>{Spot::upper_bout_left, "upper_bout_left", "upper bout, left"},
    Said<Spot>{Spot::upper_bout_right, "upper_bout_right", "upper bout, right"},
    Said<Spot>{Spot::waist_left, "waist_left", "waist, left"},
    Said<Spot>{Spot::waist_right, "waist_right", "waist, right"},
    Said<Spot>{Spot::lower_bout_left, "lower_bout_left", "lower bout, left"},
    Said<Spot>{Spot::lower_bout_right, "lower_bout_right", "lower bout, right"},
    Said<Spot>{Spot::bridge_bass, "bridge_bass", "bridge, bass side"},
    Said<Spot>{Spot::bridge_treble, "bridge_treble", "bridge, treble side"},
};

/// Small letters without what stands between words; bytes of letters beyond ASCII stay as they are.
std::string letters_alone(std::string_view text) {
    std::string out;
    for (const char c : text) {
        const auto letter = static_cast<unsigned char>(c);
        if (letter >= 0x80 || std::isalnum(letter) != 0)
            out += static_cast<char>(std::tolower(letter));
    }
    return out;
}

} // namespace

std::string_view to_word(Verdict verdict) { return row_of(k_verdict_names, verdict).word; }
std::string_view to_text(Verdict verdict) { return say(row_of(k_verdict_names, verdict).text); }
std::optional<Verdict> verdict_from_word(std::string_view word) {
    return value_of(k_verdict_names, word);
}

std::string_view to_word(Spot spot) { return row_of(k_spot_names, spot).word; }
std::string_view to_text(Spot spot) { return say(row_of(k_spot_names, spot).text); }
std::optional<Spot> spot_from_word(std::string_view word) { return value_of(k_spot_names, word); }

std::optional<Spot> spot_from_text(std::string_view text) {
    std::string said = letters_alone(text);
    // The trade's other words for the same.
    for (const auto& [other, own] :
         {std::pair{"b\xc3\xbcgel", "bug"}, {"buegel", "bug"}, {"center", "centre"}})
        if (const auto at = said.find(other); at != std::string::npos)
            said.replace(at, std::string_view(other).size(), own);
    for (const Said<Spot>& name : k_spot_names) {
        const wording::Row row = wording::in_every_language(name.text.english());
        for (const std::string_view words : {name.word, row.english, row.german, row.italian})
            if (letters_alone(words) == said)
                return name.value;
    }
    return std::nullopt;
}

} // namespace platewright::taps
