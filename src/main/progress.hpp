#pragma once
#include <functional>
#include <string>

namespace platewright::cli {

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

} // namespace platewright::cli
