#pragma once
#include "wording/language.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace platewright::screen {

/// A piece of the guide as it is shown: plain words, what marked them up taken off.
struct GuideBlock {
    enum class Kind { heading, paragraph, item, row, command };
    Kind kind = Kind::paragraph;
    std::string words;
    bool operator==(const GuideBlock&) const = default;
};

/// The part of a guide that is for one view: between `<!-- help: NAME -->` and the next such line.
/// Knows of Markdown (CommonMark 0.31) what the guide uses: headings, paragraphs, lists, tables (a
/// row is a line), indented commands; pictures are left out, links keep their words. Empty where
/// there is no such part.
std::vector<GuideBlock> guide_part(std::string_view markdown, std::string_view name);

/// The guide in a language, as it was installed beside this program (share/doc/platewright) or lies
/// in the sources it was built in (docs); in English where that language's is not there. Empty: no
/// guide here.
std::string read_guide(wording::Language language);

} // namespace platewright::screen
