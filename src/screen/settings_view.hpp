#pragma once
#include "screen/fields.hpp"
#include "screen/sight.hpp"
#include "screen/typed.hpp"

#include <string>

namespace platewright::screen {

/// How the window is set: language, numbers, letters, light, notes, and how the bench answers.
class SettingsView {
public:
    void draw(const Sight& sight, plot::Box area);

private:
    void of_language(const Sight& sight, const plot::Box& box);
    void notes(const Sight& sight);
    void of_the_bench(const Sight& sight, const plot::Box& box);
    void of_the_voice(const Sight& sight);
    void of_the_air(const Sight& sight);

    TypedFigure pitch_; // the reference pitch as it is being typed
    bool air_ = false;  // the fields hold the air
    trends::Air shown_air_;
    TypedFigure celsius_, percent_;
    Complaint complaint_, pitch_complaint_;
};

} // namespace platewright::screen
