#include "screen/carving_view.hpp"

#include "screen/fields.hpp"
#include "screen/parts.hpp"
#include "screen/stack.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace platewright::screen {
using plot::Box;

void CarvingView::choices(const Sight& sight, Box box) {
    const std::array all{
        std::pair{Sheet::thickness, say("Thickness")}, std::pair{Sheet::shape, say("Shape")},
        std::pair{Sheet::motion, say("Motion")},       std::pair{Sheet::strokes, say("Strokes")},
        std::pair{Sheet::pass, say("Next pass")},      std::pair{Sheet::trial, say("Trial")},
        std::pair{Sheet::hand, say("By hand")}};
    const Sheet before = sheet_;
    if (sight.stacks) { // two rows
        const std::array first{all[0], all[1], all[2], all[3]};
        const std::array second{all[4], all[5], all[6]};
        sheet_ = choose_one(sight, take_top(box, 0.5 * box.height()), first, sheet_);
        sheet_ = choose_one(sight, box, second, sheet_);
    } else {
        const double width = std::min(860.0 * sight.look.scale, box.width());
        sheet_ = choose_one(sight, take_left(box, width), all, sheet_);
    }
    const bool stopped = sight.now.work && sight.now.work->doing.empty() && !sight.now.work->study;
    if (sheet_ != before && stopped) { // who opens another sheet looks again
        asked_.again();
    }
}

plot::PlatePicture CarvingView::picture(const Sight& sight) const {
    const auto& work = sight.now.work;
    const bool two_piece = form_shown(sight.now.plate->history).two_piece;
    switch (sheet_) {
    case Sheet::thickness:
        return map_.picture(sight);
    case Sheet::shape:
        return form_.picture(sight);
    case Sheet::motion:
        return work && work->study ? modes_.motion(*work->study, two_piece) : outline_shown(sight);
    case Sheet::strokes:
        return work && work->study ? modes_.strokes(*work->study, two_piece) : outline_shown(sight);
    case Sheet::pass:
        return pass_.picture(sight);
    case Sheet::trial:
        return trial_.picture(sight);
    case Sheet::hand:
        break;
    }
    return hand_.picture(sight);
}

void CarvingView::side(const Sight& sight, const Box& box, const PlateSpot& spot) {
    const Page page(sight, "carving", box);
    const auto& work = sight.now.work;
    const bool wants_model =
        sheet_ == Sheet::motion || sheet_ == Sheet::strokes || sheet_ == Sheet::pass;
    if (wants_model && (!work || !work->study)) {
        const bool busy = work && !work->doing.empty(); // what it does stands below
        if (work && !work->trouble.empty()) {
            text(sight, work->trouble);
        } else if (!busy) {
            text(sight, say("The model needs a thickness map: enter caliper readings under "
                            "Thickness."));
        }
        return;
    }
    switch (sheet_) {
    case Sheet::thickness:
        map_.side(sight, spot);
        break;
    case Sheet::shape:
        form_.side(sight);
        break;
    case Sheet::motion:
        modes_.motion_side(sight, *work->study);
        break;
    case Sheet::strokes:
        modes_.strokes_side(sight, *work->study, spot);
        break;
    case Sheet::pass:
        pass_.side(sight);
        break;
    case Sheet::trial:
        trial_.side(sight, spot);
        break;
    case Sheet::hand:
        hand_.side(sight, spot);
        break;
    }
}

void CarvingView::draw(const Sight& sight, Box area) {
    const double scale = sight.look.scale;
    // A closed body is no plate: nothing of its inside can be measured or taken.
    if (!sight.now.plate || sight.now.plate->history.plate.part == modes::Part::body) {
        invite_to_plates(sight, area, say("No plate on the bench"),
                         say("Put a plate on the bench; then its thickness can be mapped, and a "
                             "model of it says what a stroke of the scraper does."));
        return;
    }
    asked_.keep(sight); // only while someone looks
    const bool busy = sight.now.work && !sight.now.work->doing.empty();
    if (sight.stacks) {
        choices(sight, next_column(sight, area, 0.0, 88.0 * scale));
        if (busy) {
            working_bar(sight, next_column(sight, area, 0.0, 40.0 * scale), sight.now.work->doing,
                        sight.now.work->share);
        }
        // Low enough that what a place does is seen beneath it.
        const Box drawing = next_column(sight, area, 0.0, 230.0 * scale);
        const PlateSpot spot = draw_plate_sheet(sight, picture(sight), drawing);
        side(sight, next_column(sight, area, 0.0), spot);
        return;
    }
    choices(sight, take_top(area, 44.0 * scale));
    take_top(area, 10.0 * scale);
    if (busy) {
        working_bar(sight, take_bottom(area, 40.0 * scale), sight.now.work->doing,
                    sight.now.work->share);
        take_bottom(area, 10.0 * scale);
    }
    const Box right = take_right(area, std::min(430.0 * scale, 0.45 * area.width()));
    take_right(area, 10.0 * scale);
    const PlateSpot spot = draw_plate_sheet(sight, picture(sight), area);
    side(sight, right, spot);
}

} // namespace platewright::screen
