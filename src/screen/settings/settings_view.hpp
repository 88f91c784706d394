#pragma once
#include "screen/fields/fields.hpp"
#include "screen/fields/typed.hpp"
#include "screen/view_context.hpp"

#include <string>

namespace platewright::screen {

/// How the window is set: language, numbers, letters, light, notes, and how the bench answers.
class SettingsView {
public:
    void draw(const ViewContext& context, plot::Box area);

private:
    void of_language(const ViewContext& context, const plot::Box& box);
    void notes(const ViewContext& context);
    void of_the_bench(const ViewContext& context, const plot::Box& box);
    void of_the_voice(const ViewContext& context);
    void of_the_air(const ViewContext& context);

    TypedFigure pitch_; // the reference pitch as it is being typed
    bool air_ = false;  // the fields hold the air
    trends::Air shown_air_;
    TypedFigure celsius_, percent_;
    Complaint complaint_, pitch_complaint_;
};

} // namespace platewright::screen
