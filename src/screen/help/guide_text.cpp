#include "screen/help/guide_text.hpp"

#include "base/text.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <iterator>

namespace platewright::screen {
namespace {

/// Without ** and `, with a link's words in place of the link, and what stands between single *, as
/// a button's name does, between the language's quotation marks.
std::string plain(std::string_view text) {
    const std::string quoted = wording::say("\"{}\"", "\n");
    const std::size_t middle = quoted.find('\n');
    std::string words;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text.substr(i).starts_with("**")) {
            ++i;
            continue;
        }
        if (text[i] == '`')
            continue;
        if (text[i] == '*') {
            const bool opens = words.empty() || words.back() == ' ' || words.back() == '(';
            words += opens ? quoted.substr(0, middle) : quoted.substr(middle + 1);
            continue;
        }
        if (text[i] == '<' && text.substr(i).starts_with("<a ")) { // an anchor of our own
            i = std::min(text.size(), text.find("</a>", i) + 3);
            continue;
        }
        if (text[i] == '[') {
            const std::size_t end = text.find("](", i);
            const std::size_t close = end == std::string_view::npos ? end : text.find(')', end);
            if (close != std::string_view::npos) {
                words += plain(text.substr(i + 1, end - i - 1));
                i = close;
                continue;
            }
        }
        words += text[i];
    }
    return words;
}

/// A table's row in a line; nothing for the line that parts its head.
std::string row_words(std::string_view line) {
    std::string words;
    line.remove_prefix(1);
    while (!line.empty()) {
        const std::size_t end = std::min(line.find('|'), line.size());
        const std::string cell = plain(base::trimmed(line.substr(0, end)));
        if (!cell.empty() && cell.find_first_not_of("-:") == std::string::npos)
            return {};
        if (!cell.empty())
            words += (words.empty() ? "" : " \u2013 ") + cell;
        line.remove_prefix(std::min(end + 1, line.size()));
    }
    return words;
}

bool begins_item(std::string_view line) {
    const std::size_t digits = line.find_first_not_of("0123456789");
    return line.starts_with("- ") || (digits > 0 && digits != std::string_view::npos &&
                                      line.substr(digits).starts_with(". "));
}

std::string_view part_of(std::string_view markdown, std::string_view name) {
    const std::string mark = "<!-- help: " + std::string(name) + " -->";
    const std::size_t at = markdown.find(mark);
    if (at == std::string_view::npos)
        return {};
    const std::string_view rest = markdown.substr(at + mark.size());
    return rest.substr(0, rest.find("<!-- help: "));
}

} // namespace

std::vector<GuideBlock> guide_part(std::string_view markdown, std::string_view name) {
    using Kind = GuideBlock::Kind;
    std::string_view rest = part_of(markdown, name);
    std::vector<GuideBlock> blocks;
    bool goes_on = false; // the next line belongs to the block before
    while (!rest.empty()) {
        const std::size_t end = std::min(rest.find('\n'), rest.size());
        const std::string_view line = rest.substr(0, end);
        rest.remove_prefix(std::min(end + 1, rest.size()));
        const std::string_view words = base::trimmed(line);
        if (words.empty() || words.starts_with("![")) {
            goes_on = false;
        } else if (words.starts_with('#')) {
            blocks.push_back(
                {Kind::heading, plain(base::trimmed(words.substr(words.find_first_not_of('#'))))});
            goes_on = false;
        } else if (words.starts_with('|')) {
            if (std::string row = row_words(words); !row.empty())
                blocks.push_back({Kind::row, std::move(row)});
            goes_on = false;
        } else if (line.starts_with("    ")) {
            blocks.push_back({Kind::command, std::string(words)});
            goes_on = false;
        } else if (begins_item(words)) {
            blocks.push_back(
                {Kind::item, plain(words.starts_with("- ") ? words.substr(2) : words)});
            goes_on = true;
        } else {
            const std::string_view said = words.starts_with("> ") ? words.substr(2) : words;
            if (goes_on)
                blocks.back().words += " " + plain(said);
            else
                blocks.push_back({Kind::paragraph, plain(said)});
            goes_on = true;
        }
    }
    return blocks;
}

std::string read_guide(wording::Language language) {
    namespace fs = std::filesystem;
    std::error_code none;
    const fs::path program = fs::read_symlink("/proc/self/exe", none);
    const std::string in_language = "guide." + std::string(wording::to_code(language)) + ".md";
    for (const std::string& file : {in_language, std::string("guide.md")})
        for (fs::path folder = program.parent_path(); folder.has_relative_path();
             folder = folder.parent_path())
            for (const char* place : {"share/doc/platewright", "docs"})
                if (std::ifstream in(folder / place / file, std::ios::binary); in)
                    return {std::istreambuf_iterator<char>(in), {}};
    return {};
}

} // namespace platewright::screen
