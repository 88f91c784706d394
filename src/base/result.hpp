#pragma once
#include <string>
#include <utility>
#include <variant>

namespace platewright::base {

/// Why an operation could not give a value. `what` is one sentence for the maker: what is wrong and
/// what to do. `detail` is for the log.
struct Fault {
    std::string what;
    std::string detail = {};
};

/// A value, or the Fault that stands in its place. For outside input that may be bad.
template <class T>
class [[nodiscard]] Result {
public:
    Result(T value) : held_(std::in_place_index<0>, std::move(value)) {}
    Result(Fault fault) : held_(std::in_place_index<1>, std::move(fault)) {}
    explicit operator bool() const noexcept { return held_.index() == 0; }
    T& operator*() & { return std::get<0>(held_); }
    const T& operator*() const& { return std::get<0>(held_); }
    T&& operator*() && { return std::get<0>(std::move(held_)); }
    T* operator->() { return &std::get<0>(held_); }
    const T* operator->() const { return &std::get<0>(held_); }
    const Fault& fault() const { return std::get<1>(held_); }

private:
    std::variant<T, Fault> held_;
};

} // namespace platewright::base
