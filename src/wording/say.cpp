#include "wording/say.hpp"

namespace platewright::wording {

std::string_view in_language(const Row& row) {
    switch (spoken()) {
    case Language::english:
        return row.english;
    case Language::german:
        return row.german;
    case Language::italian:
        return row.italian;
    }
    return row.english;
}

std::string filled(const Row& row, fmt::format_args values) {
    return fmt::vformat(in_language(row), values);
}

} // namespace platewright::wording
