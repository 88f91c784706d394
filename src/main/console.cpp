#include "main/console.hpp"

#include "base/failure.hpp"
#include "base/utf8.hpp"

#include <algorithm>
#include <cstdio>
#include <fmt/format.h>
#include <unistd.h>

namespace platewright::cli {
namespace {

/// Columns a UTF-8 text takes on a terminal, for texts of one column a character.
std::size_t width(std::string_view text) {
    return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
        return (static_cast<unsigned char>(c) & 0xC0) != 0x80;
    }));
}

bool is_number(std::string_view text) {
    return !text.empty() &&
           text.find_first_not_of("0123456789.,+-\u2212\u00b1% ") == std::string_view::npos;
}

} // namespace

std::string Table::text() const {
    std::vector<std::size_t> widths;
    std::vector<bool> to_right;
    for (std::size_t r = 0; r < rows_.size(); ++r)
        for (std::size_t c = 0; c < rows_[r].size(); ++c) {
            if (c >= widths.size()) {
                widths.push_back(0);
                to_right.push_back(true);
            }
            widths[c] = std::max(widths[c], width(rows_[r][c]));
            if (r > 0 && !rows_[r][c].empty() && rows_[r][c] != "–")
                to_right[c] = to_right[c] && is_number(rows_[r][c]);
        }
    std::string out;
    for (const auto& row : rows_) {
        std::string line;
        for (std::size_t c = 0; c < row.size(); ++c) {
            const std::string gap(widths[c] - width(row[c]), ' ');
            line += "  " + (to_right[c] ? gap + row[c] : row[c] + gap);
        }
        line.erase(line.find_last_not_of(' ') + 1);
        out += line + "\n";
    }
    return out;
}

// What a name brings along from a bundle or another hand is not the terminal's to execute.
void put(std::string_view given) {
    const bool is_harmless = base::is_harmless(given, base::Lines::keep);
    const std::string tamed =
        is_harmless ? std::string() : base::harmless(given, base::Lines::keep);
    const std::string_view text = is_harmless ? given : std::string_view(tamed);
    if (std::fwrite(text.data(), 1, text.size(), stdout) != text.size() || std::fflush(stdout) != 0)
        throw base::Failure(
            "What was found could not all be written to standard output; what was kept is safe.");
}

void say(std::string_view line) {
    put(line);
    if (!line.ends_with('\n'))
        put("\n");
}

void say(const std::vector<std::string>& lines, std::string_view indent) {
    for (const std::string& line : lines)
        say(std::string(indent) + line);
}

void say(const wording::Facts& facts, std::string_view indent) {
    for (const auto& [what, value] : facts)
        say(std::string(indent) + what + (what.empty() ? "" : ": ") + value);
}

void complain(std::string_view sentence) {
    const std::string text = "platewright: " + base::harmless(sentence, base::Lines::keep) + "\n";
    std::fwrite(text.data(), 1, text.size(), stderr);
}

ExitCode refuse(std::string_view sentence, ExitCode code) {
    complain(sentence);
    return code;
}

ProgressLine::ProgressLine(std::string doing)
    : doing_(std::move(doing)), terminal_(::isatty(STDERR_FILENO) == 1) {}

std::function<bool(double)> ProgressLine::callback() {
    return [this](double share) {
        const int percent = static_cast<int>(100 * share);
        if (terminal_ && percent != shown_) {
            shown_ = percent;
            fmt::print(stderr, "\r{} {} %", doing_, percent);
            std::fflush(stderr);
        }
        return true;
    };
}

void ProgressLine::clear() {
    if (terminal_ && shown_ >= 0)
        fmt::print(stderr, "\r{:{}}\r", "", doing_.size() + 8);
}

} // namespace platewright::cli
