#pragma once
#include "screen/carving_form.hpp"
#include "screen/carving_hand.hpp"
#include "screen/carving_map.hpp"
#include "screen/carving_modes.hpp"
#include "screen/carving_pass.hpp"
#include "screen/carving_sheet.hpp"
#include "screen/carving_trial.hpp"
#include "screen/study_asked.hpp"

namespace platewright::screen {

/// Where wood is, what a stroke of the scraper does, and where to take it: the plate large at the
/// left, what is said and asked of it at the right, seven sheets to choose from. What is computed
/// is asked of the bench and comes with the snapshot.
class CarvingView {
public:
    void draw(const Sight& sight, plot::Box area);

private:
    enum class Sheet { thickness, shape, motion, strokes, pass, trial, hand };

    void choices(const Sight& sight, plot::Box box);
    plot::PlatePicture picture(const Sight& sight) const;
    void side(const Sight& sight, const plot::Box& box, const PlateSpot& spot);

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
