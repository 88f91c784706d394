#pragma once
#include "screen/carve/carving_form.hpp"
#include "screen/carve/carving_sheet.hpp"

namespace platewright::screen {

/// Where wood is, what a stroke of the scraper does, and where to take it: the plate large at the
/// left, what is said and asked of it at the right, seven sheets to choose from. What is computed
/// is asked of the bench and comes with the snapshot.
class CarvingView {
public:
    void draw(const ViewContext& context, plot::Box area);

private:
    enum class Sheet { thickness, shape, motion, strokes, pass, trial, hand };

    void choices(const ViewContext& context, plot::Box box);
    plot::PlatePicture picture(const ViewContext& context) const;
    plot::PlatePicture of_sheet(const ViewContext& context) const;
    void side(const ViewContext& context, const plot::Box& box, const PlateSpot& spot);

    Sheet sheet_ = Sheet::thickness;
    StudyAsked asked_;
    MapSheet map_;
    FormSheet form_;
    ModesSheet modes_;
    PassSheet pass_;
    TrialSheet trial_;
    HandSheet hand_;
};

} // namespace platewright::screen
