#pragma once
#include "main/exit_code.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace platewright::cli {

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
/// One sentence to standard error: "platewright: …".
void complain(std::string_view sentence);
/// The same, and the code to end with.
ExitCode refuse(std::string_view sentence, ExitCode code);

} // namespace platewright::cli
