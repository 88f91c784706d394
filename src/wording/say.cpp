#include "wording/say.hpp"

#include "wording/catalogue.hpp"

#include <unordered_map>

namespace platewright::wording {
namespace {

const std::unordered_map<std::string_view, const Row*>& rows() {
    static const auto all = [] {
        std::unordered_map<std::string_view, const Row*> by_english;
        for (const std::span<const Row> part : k_catalogue) {
            for (const Row& row : part) {
                by_english.emplace(row.english, &row);
            }
        }
        return by_english;
    }();
    return all;
}

} // namespace

std::string_view in_language(std::string_view english) {
    const Language language = spoken();
    if (language == Language::english) {
        return english;
    }
    const auto found = rows().find(english);
    if (found == rows().end()) {
        return english;
    }
    return language == Language::german ? found->second->german : found->second->italian;
}

std::string filled(std::string_view english, fmt::format_args values) {
    return fmt::vformat(in_language(english), values);
}

} // namespace platewright::wording
