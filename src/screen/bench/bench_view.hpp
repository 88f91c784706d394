#pragma once
#include "screen/bench/naming_bar.hpp"
#include "screen/bench/plate_side.hpp"
#include "screen/draw/chart_pane.hpp"
#include "screen/help/first_run.hpp"
#include "screen/view_context.hpp"

#include <optional>
#include <string>
#include <vector>

namespace platewright::screen {

/// The place to stand at with both hands full: the answer to a tap, three lanes about what each
/// mode is to come to, the plate, and the decision. Everything goes by single keys too.
class BenchView {
public:
    /// `plate`: a column of its own for the plate, in a wide window; else it stands in the area.
    void draw(const ViewContext& context, plot::Box area,
              const std::optional<plot::Box>& plate = {});

private:
    bool invites(const ViewContext& context, const plot::Box& area);
    void keys(const ViewContext& context);
    /// Ends the tapping of this session: the input is off, and the mass is to be typed.
    void close_tapping(const ViewContext& context);
    void take(const ViewContext& context, PlateSide::Pressed pressed);
    void middle(const ViewContext& context, plot::Box area);
    void foot(const ViewContext& context, plot::Box& area);
    /// What of the sentences below the lanes has room, and how many have none.
    struct SaidBelow {
        bool reason = false;
        std::string doubt = {};
        int missing = 0;
    };
    SaidBelow what_fits(const ViewContext& context, const plot::Box& area, double width) const;
    void spectrum(const ViewContext& context, const plot::Box& box);
    void draw_stacked(const ViewContext& context, plot::Box area);

    /// Opens the session's form as soon as its session is there (N before it is only being done),
    /// or with `waits` at the next picture, and hands what was typed before it had the writing mark
    /// to its first field.
    void open_form(const ViewContext& context, bool waits);

    PlateSide side_;
    bool opening_ = false;              // the form was asked for, and has no writing mark yet
    std::vector<char32_t> typed_ahead_; // meanwhile
    bool aside_ = false;                // stacked: the side is shown in place of the lanes
    bool spectrum_ = false;             // asked for, though the window has little room for it
    NamingBar naming_;
    FirstRun first_run_;
    ChartPane pane_;
};

/// What is not sure. The names first: a figure under a wrong name misleads more than one that the
/// air moved, or that is spread.
std::vector<std::string> doubts_of(const bench::PlateView& plate);
/// One of them on a caution's ground, and the height it takes with the gap beside it; none for
/// none.
void draw_doubt(const ViewContext& context, const std::string& words, const plot::Box& box);
double doubt_height(const ViewContext& context, const std::string& words, double width);

} // namespace platewright::screen
