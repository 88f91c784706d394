#pragma once
#include "screen/view_context.hpp"

namespace platewright::screen {

// Where letters are large for the window, the parts of a view stand one under another and the view
// scrolls up and down: never sideways, since a line that has to be followed sideways is read with
// two hands.

inline constexpr double k_stacked_chart = 300.0; // a stacked chart's height, at scale 1

/// The window's middle while parts are stacked. It scrolls by wheel, by its bar, with Page Up, Page
/// Down, Home and End, and with the focus. Ends with its scope.
class ScrolledView {
public:
    /// `always_bar`: the bar stands also where there is nothing to scroll, so that no line is
    /// broken anew when there comes to be.
    ScrolledView(const ViewContext& context, int id, const plot::Box& box, bool always_bar);
    ~ScrolledView();
    ScrolledView(const ScrolledView&) = delete;
    ScrolledView& operator=(const ScrolledView&) = delete;
    /// What a view is drawn into: as wide as may be, and as high as is seen at once.
    const plot::Box& inside() const { return inside_; }

private:
    const ViewContext& context_;
    plot::Box inside_;
};

/// The next part of a view, from its left: `width` pixels, and a gap. Where parts are stacked, all
/// of its width under what was there before, `height` pixels high; a Page and a Growing part find
/// their own.
plot::Box next_column(const ViewContext& context, plot::Box& area, double width,
                      double height = 0.0);

/// Where parts are stacked: back to the head of the view, to what was just chosen.
void scroll_up(const ViewContext& context);

/// The next part from its top, `height` pixels and a gap; stacked, `stacked_height`.
plot::Box next_band(const ViewContext& context, plot::Box& area, double height,
                    double stacked_height);

/// What is computed aside, at the foot of the area; stacked, as its next part. Nothing where
/// nothing is.
void take_working_bar(const ViewContext& context, plot::Box& area, std::string_view doing,
                      double share);

/// The sheet a part stands on. Where parts are stacked its height is known only once it has been
/// drawn: it is as high as the picture before found it, and `box` has no end below.
class Growing {
public:
    Growing(const ViewContext& context, const char* id, plot::Box& box);
    /// To be told where it ends, in pixels; of a part that is not stacked it is known already.
    void reached(double bottom) const;

private:
    const ViewContext& context_;
    double top_;
    ImGuiID id_;
};

} // namespace platewright::screen
