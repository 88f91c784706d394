#pragma once
#include "screen/sight.hpp"

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
    void of_the_air(const Sight& sight);

    std::string pitch_; // the reference pitch as it is being typed
    bool air_ = false; // the fields hold the air
    trends::Air shown_air_;
    std::string celsius_, percent_;
    std::string complaint_, pitch_complaint_;
    double shown_pitch_hz_ = 0.0; // what pitch_ was made of
};

} // namespace platewright::screen
