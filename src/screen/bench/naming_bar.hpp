#pragma once
#include "screen/view_context.hpp"

#include <cstddef>
#include <optional>

namespace platewright::screen {

/// A mode is given its name by hand: which one is asked about, the question, and the keys and
/// buttons for its answers. The plate on the bench has to have been heard.
class NamingBar {
public:
    bool is_open() const { return mode_.has_value(); }
    void open() { mode_ = 0; }
    void toggle() { mode_ = mode_ ? std::nullopt : std::optional<std::size_t>(0); }
    /// Of the plate's modes by ascending frequency; while it is open.
    std::size_t mode() const { return *mode_; }
    /// Closes where the plate has no such mode any more.
    void keep_within(std::size_t modes) { mode_ = mode_ && *mode_ < modes ? mode_ : std::nullopt; }

    /// In a row, or, where windows stack, one under another.
    void draw(const ViewContext& context, plot::Box box);

private:
    /// What a key or button said of the mode.
    struct Said {
        std::optional<int> name; // 0: none
        bool done = false;
    };
    Said keys(const ViewContext& context);
    void in_a_row(const ViewContext& context, plot::Box box, Said& said) const;
    void stacked(const ViewContext& context, plot::Box box, Said& said) const;

    std::optional<std::size_t> mode_;
};

} // namespace platewright::screen
