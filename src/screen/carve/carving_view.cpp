#include "screen/carve/carving_view.hpp"

#include "screen/draw/parts.hpp"
#include "screen/fields/fields.hpp"
#include "screen/fields/stack.hpp"
#include "trends/model/plate_form.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace platewright::screen {
using plot::Box;

void CarvingView::choices(const ViewContext& context, Box box) {
    const std::array all{
        std::pair{Sheet::thickness, say("Thickness")}, std::pair{Sheet::shape, say("Shape")},
        std::pair{Sheet::motion, say("Motion")},       std::pair{Sheet::strokes, say("Strokes")},
        std::pair{Sheet::pass, say("Next pass")},      std::pair{Sheet::trial, say("Trial")},
        std::pair{Sheet::hand, say("By hand")}};
    const Sheet before = sheet_;
    if (context.stacks) { // two rows
        const std::array first{all[0], all[1], all[2], all[3]};
        const std::array second{all[4], all[5], all[6]};
        sheet_ = choose_one(context, take_top(box, 0.5 * box.height()), first, sheet_);
        sheet_ = choose_one(context, box, second, sheet_);
    } else {
        const double width = std::min(860.0 * context.look.scale, box.width());
        sheet_ = choose_one(context, take_left(box, width), all, sheet_);
    }
    const bool stopped =
        context.now.work && context.now.work->doing.empty() && !context.now.work->study;
    if (sheet_ != before && stopped) { // who opens another sheet looks again
        asked_.again();
    }
}

plot::PlatePicture CarvingView::picture(const ViewContext& context) const {
    plot::PlatePicture shown = of_sheet(context);
    if (shown.title.empty()) { // only a pass is seen from the inside, and says so
        shown.title = sides_shown(context, false);
    }
    return shown;
}

plot::PlatePicture CarvingView::of_sheet(const ViewContext& context) const {
    const auto& work = context.now.work;
    const bool two_piece = trends::form_of(context.now.plate->history).two_piece;
    switch (sheet_) {
    case Sheet::thickness:
        return map_.picture(context);
    case Sheet::shape:
        return form_.picture(context);
    case Sheet::motion:
        return work && work->study ? modes_.motion(*work->study, two_piece)
                                   : outline_shown(context);
    case Sheet::strokes:
        return work && work->study ? modes_.strokes(*work->study, two_piece)
                                   : outline_shown(context);
    case Sheet::pass:
        return pass_.picture(context);
    case Sheet::trial:
        return trial_.picture(context);
    case Sheet::hand:
        break;
    }
    return hand_.picture(context);
}

void CarvingView::side(const ViewContext& context, const Box& box, const PlateSpot& spot) {
    const Page page(context, "carving", box);
    const auto& work = context.now.work;
    const bool wants_model =
        sheet_ == Sheet::motion || sheet_ == Sheet::strokes || sheet_ == Sheet::pass;
    if (wants_model && (!work || !work->study)) {
        const bool busy = work && !work->doing.empty(); // what it does stands below
        if (work && !work->trouble.empty()) {
            text(context, work->trouble);
        } else if (!busy) {
            text(context,
                 say("The model needs a thickness map: enter caliper readings under Thickness."));
        }
        if (map_.not_kept() > 0) {
            text(context, say_count(map_.not_kept(), "{} reading under Thickness is not kept yet.",
                                    "{} readings under Thickness are not kept yet."));
        }
        if (sheet_ == Sheet::pass) {
            pass_.goals(context);
        }
        return;
    }
    switch (sheet_) {
    case Sheet::thickness:
        return map_.side(context, spot);
    case Sheet::shape:
        return form_.side(context);
    case Sheet::motion:
        return modes_.motion_side(context, *work->study);
    case Sheet::strokes:
        return modes_.strokes_side(context, *work->study, spot);
    case Sheet::pass:
        return pass_.side(context);
    case Sheet::trial:
        return trial_.side(context, spot);
    case Sheet::hand:
        return hand_.side(context, spot);
    }
}

void CarvingView::draw(const ViewContext& context, Box area) {
    const double scale = context.look.scale;
    if (!context.now.plate) {
        invite_to_plates(context, area, say("No plate on the bench"),
                         say("Put a plate on the bench; then its thickness can be mapped, and a "
                             "model of it says what a stroke of the scraper does."));
        return;
    }
    // A closed body is no plate: nothing of its inside can be measured or taken.
    if (context.now.plate->history.plate.part == modes::Part::body) {
        const Page page(context, "body", next_column(context, area, 0.5 * area.width()));
        text(context, say("A closed body has no inside to map or model; its targets are kept "
                          "here."));
        pass_.goals(context);
        return;
    }
    asked_.keep(context); // only while someone looks
    choices(context, next_band(context, area, 44.0 * scale, 88.0 * scale));
    if (const auto& work = context.now.work) {
        take_working_bar(context, area, work->doing, work->share);
    }
    if (context.stacks) {
        // Low enough that what a place does is seen beneath it.
        const Box drawing = next_column(context, area, 0.0, 262.0 * scale);
        const PlateSpot spot = draw_plate_sheet(context, picture(context), drawing);
        side(context, next_column(context, area, 0.0), spot);
        return;
    }
    const Box right = take_right(area, std::min(430.0 * scale, 0.45 * area.width()));
    take_right(area, 10.0 * scale);
    const PlateSpot spot = draw_plate_sheet(context, picture(context), area);
    side(context, right, spot);
}

} // namespace platewright::screen
