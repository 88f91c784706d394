#include "main/page_language.hpp"

#include "screen/wishes_file.hpp"

namespace platewright::cli {

wording::Speaking speaking_for_people(const std::string& code) {
    const screen::Wishes wishes = screen::read_wishes();
    const wording::Language language =
        wording::language_from_code(code).value_or(screen::language_of(wishes));
    return wording::Speaking(language, code.empty()
                                           ? screen::mark_of(wishes)
                                           : wishes.mark.value_or(wording::usual_mark(language)));
}

} // namespace platewright::cli
