#pragma once
#include "screen/view_context.hpp"

namespace platewright::screen {

/// The first visit, in four sheets: a microphone, the room, a tap for practice, the first plate.
/// Nothing of it has to be done in order.
class FirstRun {
public:
    void draw(const ViewContext& context, plot::Box area);

private:
    std::string demo_; // what became of the demo workshop
};

} // namespace platewright::screen
