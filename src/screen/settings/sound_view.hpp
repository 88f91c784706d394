#pragma once
#include "screen/fields/fields.hpp"
#include "screen/fields/typed.hpp"
#include "screen/view_context.hpp"

#include <string>

namespace platewright::screen {

/// Which microphone is listened to, at what rate, on which channel, and how loud it is; and which
/// channel a hammer tells its force on.
class SoundView {
public:
    void draw(const ViewContext& context, plot::Box area);

private:
    void devices(const ViewContext& context, const plot::Box& box);
    void hammer(const ViewContext& context, const audio::Device* device);
    void band(const ViewContext& context) const;
    void level(const ViewContext& context, plot::Box box) const;

    TypedFigure newton_; // as it is being typed
    Complaint complaint_;
};

} // namespace platewright::screen
