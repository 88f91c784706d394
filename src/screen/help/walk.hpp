#pragma once
#include "screen/draw/parts.hpp"
#include "screen/view_context.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace platewright::screen {

/// A first walk: one session and one decision on the demo's plate, with its recorded strikes. A
/// strip says the step that comes next and ticks it off when the bench shows that it happened; what
/// it leads to is done with the bench's own keys. Where there are no recorded strikes there is no
/// walk.
class Walk {
public:
    void start(FirstWalk start) { start_ = start; }
    /// From the guide, or a key.
    void begin(const ViewContext& context);

    /// Takes its keys before a view does, and notes what has happened.
    void follow(const ViewContext& context);
    double height(const ViewContext& context, double width);
    /// After the view, which has Esc before it.
    void draw(const ViewContext& context, plot::Box box);

private:
    enum class State { away, offered, on };
    enum class Step { session, spot, strikes, mass, decision, end };
    void leave(const ViewContext& context);
    static bool suffices(const ViewContext& context);
    bool has_happened(const ViewContext& context) const;
    void answer(const ViewContext& context, trends::Advice advice);
    std::string words(const ViewContext& context) const;
    std::string asked(const ViewContext& context) const;
    void marks(const ViewContext& context, const plot::Box& box) const;
    struct Button {
        std::string_view words, key;
        Stress stress;
        std::function<void()> act;
    };
    std::vector<Button> buttons(const ViewContext& context);
    void draw_buttons(const ViewContext& context, plot::Box& box);

    FirstWalk start_ = FirstWalk::none;
    State state_ = State::away;
    Step step_ = Step::session;
    std::optional<ledger::Id> session_before_; // on the bench when the walk began
    bool goes_on_ = false;                     // that one had no taps: it is the walk's
    bool answered_ = false;                    // the decision was read, and said back
    bool misread_ = false;
};

} // namespace platewright::screen
