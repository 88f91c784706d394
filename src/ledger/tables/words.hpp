#pragma once
#include "base/failure.hpp"
#include "ledger/record.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace platewright::ledger {

// Words of enums as columns hold them.

/// A column holds a word that this version does not know: damage, or a later program's. Whoever
/// reads a list leaves the row out (usable), and `check` tells of it; the row stays in the
/// database.
struct UnknownWord : base::Failure {
    explicit UnknownWord(const std::string& word)
        : base::Failure{"The ledger's database is damaged: it holds a word that cannot be. Nothing "
                        "was changed; the folder 'backups' has earlier copies.",
                        "unknown word '" + word + "'"} {}
};

/// What `read` makes of a row; nothing where it holds a word that this version does not know.
template <class Read>
auto usable(const Read& read) -> std::optional<decltype(read())> {
    try {
        return read();
    } catch (const UnknownWord&) {
        return std::nullopt;
    }
}

/// The enum's value of a word, and what stands for a word to come; nothing: the row can't be used.
/// `all`: what a maker chooses from.
template <class Word>
struct WordsOf;

template <>
struct WordsOf<modes::InstrumentKind> {
    static constexpr auto all = modes::k_instrument_kinds;
    static constexpr auto from = modes::instrument_kind_from_word;
    // Nothing is expected of one of another kind, so a kind to come is safely read as that.
    static constexpr std::optional unknown = modes::InstrumentKind::other;
};
template <>
struct WordsOf<modes::Part> {
    static constexpr auto all = modes::k_parts;
    static constexpr auto from = modes::part_from_word;
    static constexpr std::optional<modes::Part> unknown = {};
};
template <>
struct WordsOf<modes::Stage> {
    static constexpr auto all = modes::k_stages;
    static constexpr auto from = modes::stage_from_word;
    static constexpr std::optional<modes::Stage> unknown = {};
};
template <>
struct WordsOf<taps::Verdict> {
    static constexpr auto from = taps::verdict_from_word;
    static constexpr std::optional<taps::Verdict> unknown = {};
};
template <>
struct WordsOf<taps::Spot> {
    static constexpr auto from = taps::spot_from_word;
    static constexpr std::optional unknown = taps::Spot::unknown;
};
template <>
struct WordsOf<FlexKind> {
    static constexpr auto all = k_flex_kinds;
    static constexpr auto from = flex_kind_from_word;
    static constexpr std::optional<FlexKind> unknown = {};
};
template <>
struct WordsOf<LaidThing> {
    static constexpr auto all = k_laid_things;
    static constexpr auto from = laid_thing_from_word;
    static constexpr std::optional unknown = LaidThing::putty; // only what it is called
};
template <>
struct WordsOf<Piece> {
    static constexpr auto all = k_pieces;
    static constexpr auto from = piece_from_word;
    static constexpr std::optional<Piece> unknown = {};
};
template <>
struct WordsOf<WoodMotion> {
    static constexpr auto all = k_wood_motions;
    static constexpr auto from = wood_motion_from_word;
    static constexpr std::optional<WoodMotion> unknown = {};
};

/// Throws UnknownWord.
template <class Word>
Word word_read(const std::string& word) {
    if (const auto value = WordsOf<Word>::from(word))
        return *value;
    if (WordsOf<Word>::unknown)
        return *WordsOf<Word>::unknown;
    throw UnknownWord{word};
}

} // namespace platewright::ledger
