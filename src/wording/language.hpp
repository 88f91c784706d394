#pragma once
#include <array>
#include <optional>
#include <string>
#include <string_view>

namespace platewright::wording {

enum class Language { english, german, italian };
inline constexpr std::array k_languages{Language::english, Language::german, Language::italian};

/// "en", "de", "it": the ISO 639-1 code, which settings and LANG carry.
std::string_view to_code(Language language);
/// "English", "Deutsch", "Italiano": each in its own words, so that it is found by who needs it.
std::string_view own_name(Language language);
std::optional<Language> language_from_code(std::string_view code);

/// The language of a locale's name as POSIX writes it: "de_AT.UTF-8" gives German. Nothing for a
/// language that is not in the catalogue.
std::optional<Language> language_from_locale(std::string_view locale);

/// The first of LC_ALL, LC_MESSAGES and LANG that is set decides, as POSIX orders them (Base
/// Definitions, 8.2); English where it names no language of ours.
Language language_of_surroundings();

/// What stands between the whole and the rest of a number that is shown.
enum class DecimalMark { point, comma };
/// As the language has it.
DecimalMark usual_mark(Language language);

/// What everything is said in from now on. One for the whole program, English with a point until
/// the window or a sheet says otherwise: the command line keeps to that, since scripts read it.
/// Threads: any; no lock.
void speak(Language language, DecimalMark mark);
Language spoken();
DecimalMark spoken_mark();

/// Speaks another language, on its own thread alone, for as long as it lives.
class Speaking {
public:
    Speaking(Language language, DecimalMark mark);
    explicit Speaking(Language language) : Speaking(language, usual_mark(language)) {}
    ~Speaking();
    Speaking(const Speaking&) = delete;
    Speaking& operator=(const Speaking&) = delete;

private:
    Language language_before_;
    DecimalMark mark_before_;
};

/// A number with exactly `decimals` digits (0 to 12) and the mark of now: "352.8", "352,8".
/// `signed_figure` always has a sign and a true minus: "+1.2", "−0.4". For people only; files have
/// base::fixed.
std::string figure(double value, int decimals);
std::string signed_figure(double value, int decimals);
/// The same with the interval that base::plus_minus makes of its deviation: "12.30 ± 0.45".
std::string with_range(double value, double sd, int decimals);
std::string signed_with_range(double value, double sd, int decimals);

/// The nearest note of twelve equal steps to the octave, and how far off it is: "F4 +17 cents",
/// "Fis4 −8 Cent", "Fa#4 −8 cent". `pitch_hz` is that of A4 (ISO 16: 440). Octaves are numbered as
/// in scientific pitch notation in every language, C4 the one below A4.
/// Empty where hz or pitch_hz is not above 0.
std::string note_text(double hz, double pitch_hz);

} // namespace platewright::wording
