#pragma once
#include "plot/axis.hpp"
#include "plot/chart.hpp"
#include "screen/view_context.hpp"

#include <functional>
#include <memory>
#include <optional>
#include <string>

namespace platewright::screen {

/// A chart that can be looked into: the wheel looks closer at what is under the pointer, a drag
/// moves, a double click shows all again; it can be kept as a picture. Built anew only when what it
/// shows has changed.
class ChartPane {
public:
    enum class Zooms { across, both };
    struct Subject {
        std::shared_ptr<const void> from; // another one: another chart
        int variant = 0;                  // the same: of one `from` there may be several
        std::function<plot::Chart(const plot::Palette&)> chart;
        std::string name; // of the file it is kept in
    };

    /// Draws into `box`. The frame is of what is seen now.
    plot::Frame draw(const ViewContext& context, const Subject& subject, const plot::Box& box,
                     double text_height, Zooms zooms);

    /// Keeping it, and showing all again: a row of small buttons, and the keys S and Z.
    void tools(const ViewContext& context, const Subject& subject, plot::Box box);

    /// Keeping it alone, where there is no room for more: a low button, and what became of it
    /// beside it.
    void keep_button(const ViewContext& context, const Subject& subject, plot::Box box);

    bool empty() const { return chart_.empty(); }
    /// Where it was pressed and let go without having been moved.
    const std::optional<plot::Point>& clicked() const { return clicked_; }

private:
    void keep(const ViewContext& context, const Subject& subject);
    void build(const ViewContext& context, const Subject& subject);
    void look_closer(const plot::Frame& frame, Zooms zooms, double factor, plot::Point about);
    void answer_mouse(const ViewContext& context, const plot::Frame& frame, Zooms zooms);

    std::shared_ptr<const void> from_;
    int variant_ = -1;
    const plot::Palette* palette_ = nullptr;
    plot::Chart chart_;
    std::optional<plot::Axis> across_, up_; // what is seen of it; nothing: all
    std::optional<plot::Point> clicked_;
    bool dragged_ = false;
    std::string told_; // what became of the picture or the figures
};

/// "352.8 Hz, F4 +18 cents"; without the note where the maker wants none.
std::string hz_words(const Preferences& preferences, double hz);

/// What a spectrum chart says under the pointer: a line through it, and frequency and level in the
/// frame's lower corner. Nothing while the pointer is elsewhere.
void read_out(const ViewContext& context, const plot::Frame& frame);

/// Lines on a ground of their own, beside the pointer at `at` and within a box.
void draw_read_out(ImguiCanvas& canvas, const ViewContext& context,
                   const std::vector<std::string>& lines, plot::Point at, const plot::Box& within);

} // namespace platewright::screen
