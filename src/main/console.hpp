#pragma once
#include "base/result.hpp"
#include "wording/facts.hpp"

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace platewright::cli {

/// What the program tells the shell; the same for every command.
enum ExitCode : int {
    k_done = 0,
    k_failed = 1,        ///< the world failed: a device, a disk, a ledger
    k_wrong_usage = 2,   ///< the command line itself
    k_unusable = 3,      ///< input that can't be used, whole or in part
    k_nothing_found = 4, ///< no taps, no such plate
};

/// Columns of text, padded to their widest cell, numbers to the right. The first row is the head.
class Table {
public:
    explicit Table(std::vector<std::string> head) : rows_{std::move(head)} {}
    void row(std::vector<std::string> cells) { rows_.push_back(std::move(cells)); }
    bool empty() const { return rows_.size() < 2; }
    std::string text() const; ///< each line indented by two, ends in a line break

private:
    std::vector<std::vector<std::string>> rows_;
};

/// Text to standard output, at once. Throws base::Failure where it can't be written.
void put(std::string_view text);
/// One line of it.
void say(std::string_view line);
/// Each of them as a line.
void say(const std::vector<std::string>& lines, std::string_view indent = "  ");
/// What is told of a thing, a line each.
void say(const wording::Facts& facts, std::string_view indent = "  ");
/// One sentence to standard error: "platewright: …".
void complain(std::string_view sentence);
/// The same, and the code to end with.
ExitCode refuse(std::string_view sentence, ExitCode code);

/// "writing 40 %" on one line of a terminal's standard error, for work that may take long; nothing
/// where standard error is no terminal.
class ProgressLine {
public:
    explicit ProgressLine(std::string doing);
    /// Never asks to stop: on the command line that is Ctrl-C's part.
    std::function<bool(double)> callback();
    void clear();

private:
    std::string doing_;
    bool terminal_;
    int shown_ = -1;
};

/// Ends a command: why, and with which code.
struct Refusal {
    std::string sentence;
    ExitCode code;
};
/// What was looked for; else the command ends with its fault. Throws Refusal.
template <class T>
T needed(base::Result<T> found, ExitCode code = k_nothing_found) {
    if (!found)
        throw Refusal{found.fault().what, code};
    return *std::move(found);
}

} // namespace platewright::cli
