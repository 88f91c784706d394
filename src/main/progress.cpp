#include "main/progress.hpp"

#include <cstdio>
#include <fmt/format.h>
#include <unistd.h>

namespace platewright::cli {

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
