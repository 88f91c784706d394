#pragma once
#include "screen/fields.hpp"
#include "screen/sight.hpp"
#include "screen/typed.hpp"

#include <string>

namespace platewright::screen {

/// Which microphone is listened to, at what rate, on which channel, and how loud it is; and which
/// channel a hammer tells its force on.
class SoundView {
public:
    void draw(const Sight& sight, plot::Box area);

private:
    void devices(const Sight& sight, const plot::Box& box);
    void hammer(const Sight& sight, const audio::Device* device);
    void band(const Sight& sight) const;
    void level(const Sight& sight, plot::Box box) const;

    TypedFigure newton_; // as it is being typed
    Complaint complaint_;
};

} // namespace platewright::screen
