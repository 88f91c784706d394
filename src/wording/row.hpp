#pragma once
#include <array>
#include <cstddef>
#include <string_view>

namespace platewright::wording {

/// One thing that is said, in every language. The English is its key as well: views name what they
/// say in plain words, and the compiler looks it up. A field is {}; where a language needs another
/// order, it numbers them from 0: {1} … {0}. A brace for itself does not occur.
struct Row {
    std::string_view english;
    std::string_view german;
    std::string_view italian;
};

/// How many fields a text has, and whether each of them is there just once.
struct Fields {
    std::size_t count = 0;
    bool sound = true;
};

constexpr Fields fields_of(std::string_view text) {
    std::array<int, 10> met{};
    Fields fields;
    std::size_t in_order = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '}') {
            fields.sound = false; // one that nothing opened
        }
        if (text[i] != '{') {
            continue;
        }
        const bool numbered = i + 2 < text.size() && text[i + 1] >= '0' && text[i + 1] <= '9';
        const std::size_t end = i + (numbered ? 2 : 1);
        if (end >= text.size() || text[end] != '}' || in_order >= met.size()) {
            fields.sound = false;
            return fields;
        }
        ++met.at(numbered ? static_cast<std::size_t>(text[i + 1] - '0') : in_order++);
        ++fields.count;
        i = end;
    }
    for (std::size_t k = 0; k < met.size(); ++k) {
        fields.sound = fields.sound && met.at(k) == (k < fields.count ? 1 : 0);
    }
    return fields;
}

} // namespace platewright::wording
