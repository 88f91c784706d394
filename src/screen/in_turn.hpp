#pragma once
#include <deque>
#include <functional>

namespace platewright::screen {

/// What happened to the window, passed on in turn. Where the machine is busy a picture takes a
/// second, and what was clicked and typed meanwhile comes all at once: but a key means the field
/// that was clicked before it, or that a key before it called, only once pictures have brought the
/// writing mark there.
class InTurn {
public:
    enum class Kind { of_mouse, of_keyboard };
    /// `happens` gives how many pictures have to be drawn before the next key.
    void add(Kind kind, std::function<int()> happens);
    /// Before a picture: all up to what has to be seen first. At least one picture lies between a
    /// press of the mouse and its end.
    void pass_on();
    /// After a picture that wants so many more.
    void drawn(int wanted, bool is_writing);
    bool empty() const { return waiting_.empty(); }

private:
    struct Happening {
        Kind kind;
        std::function<int()> happens;
    };
    std::deque<Happening> waiting_;
    int pictures_ = 0; ///< to be drawn before the next key
};

} // namespace platewright::screen
