#include "wording/language.hpp"

#include "base/interval.hpp"
#include "base/level.hpp"
#include "base/text.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <array>
#include <atomic>
#include <cmath>
#include <cstdlib>

namespace platewright::wording {
namespace {

std::atomic<Language>& language_now() {
    static std::atomic<Language> now{Language::english};
    return now;
}
std::atomic<DecimalMark>& mark_now() {
    static std::atomic<DecimalMark> now{DecimalMark::point};
    return now;
}

/// What this thread alone speaks, while Speakings live on it.
struct Here {
    int speakings = 0;
    Language language = Language::english;
    DecimalMark mark = DecimalMark::point;
};
thread_local Here here;

std::string marked(std::string number) {
    if (spoken_mark() == DecimalMark::comma) {
        std::replace(number.begin(), number.end(), '.', ',');
    }
    return number;
}

} // namespace

std::string_view to_code(Language language) {
    constexpr std::array<std::string_view, 3> codes{"en", "de", "it"};
    return codes.at(static_cast<std::size_t>(language));
}

std::string_view own_name(Language language) {
    constexpr std::array<std::string_view, 3> names{"English", "Deutsch", "Italiano"};
    return names.at(static_cast<std::size_t>(language));
}

std::optional<Language> language_from_code(std::string_view code) {
    for (const Language language : k_languages) {
        if (to_code(language) == code) {
            return language;
        }
    }
    return std::nullopt;
}

std::optional<Language> language_from_locale(std::string_view locale) {
    return language_from_code(
        locale.substr(0, std::min(locale.find_first_of("_.@"), locale.size())));
}

Language language_of_surroundings() {
    for (const char* name : {"LC_ALL", "LC_MESSAGES", "LANG"}) {
        if (const char* value = std::getenv(name); value != nullptr && *value != '\0') {
            return language_from_locale(value).value_or(Language::english);
        }
    }
    return Language::english;
}

DecimalMark usual_mark(Language language) {
    return language == Language::english ? DecimalMark::point : DecimalMark::comma;
}

void speak(Language language, DecimalMark mark) {
    language_now() = language;
    mark_now() = mark;
}

Language spoken() { return here.speakings > 0 ? here.language : language_now().load(); }
DecimalMark spoken_mark() { return here.speakings > 0 ? here.mark : mark_now().load(); }

Speaking::Speaking(Language language, DecimalMark mark)
    : language_before_(spoken()), mark_before_(spoken_mark()) {
    here = {here.speakings + 1, language, mark};
}
Speaking::~Speaking() { here = {here.speakings - 1, language_before_, mark_before_}; }

std::string figure(double value, int decimals) { return marked(base::fixed(value, decimals)); }
std::string signed_figure(double value, int decimals) {
    return marked(base::signed_fixed(value, decimals));
}
std::string with_range(double value, double sd, int decimals) {
    return figure(value, decimals) + " ± " + figure(base::plus_minus(sd), decimals);
}
std::string signed_with_range(double value, double sd, int decimals) {
    return signed_figure(value, decimals) + " ± " + figure(base::plus_minus(sd), decimals);
}

namespace {

using Names = std::array<std::string_view, 12>;
constexpr std::array<Names, 3> k_names{
    Names{"C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"},
    Names{"C", "Cis", "D", "Dis", "E", "F", "Fis", "G", "Gis", "A", "B", "H"},
    Names{"Do", "Do#", "Re", "Re#", "Mi", "Fa", "Fa#", "Sol", "Sol#", "La", "La#", "Si"}};
constexpr long k_a4 = 57; // half-tones above C0

} // namespace

std::string note_text(double hz, double pitch_hz) {
    if (!(hz > 0.0 && pitch_hz > 0.0)) {
        return {};
    }
    const double steps = base::cents(hz, pitch_hz) / 100.0;
    const long nearest = std::lround(steps);
    const long above_c0 = k_a4 + nearest;
    const long octave = above_c0 >= 0 ? above_c0 / 12 : (above_c0 - 11) / 12;
    const auto& names = k_names.at(static_cast<std::size_t>(spoken()));
    return say("{}{} {} cents", names.at(static_cast<std::size_t>(above_c0 - 12 * octave)), octave,
               signed_figure(100.0 * (steps - static_cast<double>(nearest)), 0));
}

} // namespace platewright::wording
