#include "screen/fields/soft_breaks.hpp"

#include <algorithm>

namespace platewright::screen {
namespace {

bool is_soft(std::string_view text, std::size_t i) {
    return text[i] == '\n' && i > 0 && text[i - 1] == ' ';
}

std::string_view without_last_blanks(std::string_view line) {
    const std::size_t end = line.find_last_not_of(' ');
    return line.substr(0, end == std::string_view::npos ? 0 : end + 1);
}

void break_line(std::string_view words, const std::function<bool(std::string_view)>& fits,
                std::string& out) {
    std::string line;
    while (!words.empty()) {
        const std::size_t end = words.find(' ');
        const std::size_t after = words.find_first_not_of(' ', std::min(end, words.size()));
        const std::string_view next = words.substr(0, after);
        words.remove_prefix(next.size());
        if (!line.empty() && line.back() == ' ' &&
            !fits(without_last_blanks(line + std::string(next)))) {
            out += '\n';
            line.clear();
        }
        line += next;
        out += next;
    }
}

} // namespace

std::string softly_broken(std::string_view words,
                          const std::function<bool(std::string_view line)>& fits) {
    std::string out;
    for (;;) {
        const std::size_t end = words.find('\n');
        if (end == std::string_view::npos) {
            break_line(words, fits, out);
            return out;
        }
        break_line(without_last_blanks(words.substr(0, end)), fits, out);
        out += '\n';
        words.remove_prefix(end + 1);
    }
}

std::string without_soft_breaks(std::string_view broken) {
    std::string out;
    for (std::size_t i = 0; i < broken.size(); ++i) {
        if (!is_soft(broken, i)) {
            out += broken[i];
        }
    }
    return out;
}

std::size_t place_in_broken(std::string_view broken, std::size_t bytes) {
    std::size_t i = 0;
    for (std::size_t gone = 0; i < broken.size(); ++i) {
        if (is_soft(broken, i)) {
            continue;
        }
        if (gone == bytes) {
            return i;
        }
        ++gone;
    }
    return i;
}

} // namespace platewright::screen
