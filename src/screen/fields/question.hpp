#pragma once
#include <string>
#include <vector>

namespace platewright::screen {

/// What is asked in a window of its own, before the program's window opens or in place of it. Texts
/// in the maker's language; `lines` are broken to the window's width.
struct Question {
    std::string title;
    std::vector<std::string> lines;
    std::string yes; ///< with Enter; empty: there is nothing to be agreed to
    std::string no;  ///< with Esc; closing the window says the same
};

/// Asks, and waits for the answer: true for yes. The look is the one the maker chose for the
/// window. Throws base::Failure where no window can be opened. Threads: the main thread only, and
/// no other window at the same time.
bool ask(const Question& question);

} // namespace platewright::screen
