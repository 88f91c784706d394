#pragma once
#include <stdexcept>
#include <string>
#include <utility>

namespace platewright::base {

/// The world failed: a device, a disk, a database. what() is the sentence the maker reads, and says
/// what happened to the data; detail() is for the log. Thrown by owners of resources, caught in
/// each thread's loop in bench/ and in main.
class Failure : public std::runtime_error {
public:
    explicit Failure(const std::string& what, std::string detail = {})
        : std::runtime_error(what), detail_(std::move(detail)) {}
    const std::string& detail() const noexcept { return detail_; }

private:
    std::string detail_;
};

} // namespace platewright::base
