#include "main/paper/page_language.hpp"

#include "screen/settings/preferences_file.hpp"

namespace platewright::cli {

wording::Speaking speaking_for_people(const std::string& code) {
    const screen::Preferences preferences = screen::read_preferences();
    const wording::Language language =
        wording::language_from_code(code).value_or(screen::language_of(preferences));
    return wording::Speaking(
        language, code.empty() ? screen::mark_of(preferences)
                               : preferences.mark.value_or(wording::usual_mark(language)));
}

} // namespace platewright::cli
