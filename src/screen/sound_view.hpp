#pragma once
#include "screen/sight.hpp"

namespace platewright::screen {

/// Which microphone is listened to, at what rate, on which channel, and how loud it is.
class SoundView {
public:
    void draw(const Sight& sight, plot::Box area) const;

private:
    void devices(const Sight& sight, const plot::Box& box) const;
    void level(const Sight& sight, plot::Box box) const;
};

} // namespace platewright::screen
