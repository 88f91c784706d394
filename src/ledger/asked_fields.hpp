#pragma once
#include "ledger/columns.hpp"
#include "ledger/tables/words.hpp"

#include <functional>
#include <variant>

namespace platewright::ledger {

/// A field that is one of some words.
struct Choice {
    struct Word {
        std::string_view word, text; ///< of the program; of a person, in the language of now
    };
    std::vector<Word> all;
    std::size_t chosen = 0; ///< as many as there are: none of these
    std::function<void(std::size_t)> choose;
};

/// A field that a maker is asked for, of a record that lives meanwhile.
struct AskedField {
    std::string_view column;
    const Asked* asked;
    std::variant<double*, std::optional<double>*, std::string*, bool*, Choice> value;
};

template <class Word>
Choice choice_of(Word& value) {
    Choice choice;
    for (const Word one : WordsOf<Word>::all) {
        if (one == value)
            choice.chosen = choice.all.size();
        choice.all.push_back({to_word(one), to_text(one)});
    }
    choice.choose = [&value](std::size_t index) { value = WordsOf<Word>::all.at(index); };
    return choice;
}

/// All of a record, in the order of its columns.
template <class Record>
std::vector<AskedField> asked_fields(Record& record) {
    std::vector<AskedField> fields;
    for_each_column<Record>([&](const auto& column) {
        auto& value = column.of(record);
        using Field = std::remove_cvref_t<decltype(value)>;
        if (!column.asked.is_any())
            return;
        if constexpr (std::is_enum_v<Field>) {
            if constexpr (requires { WordsOf<Field>::all; })
                fields.push_back({column.name, &column.asked, choice_of(value)});
        } else if constexpr (std::is_constructible_v<decltype(AskedField::value), Field*>) {
            fields.push_back({column.name, &column.asked, &value});
        }
    });
    return fields;
}

} // namespace platewright::ledger
