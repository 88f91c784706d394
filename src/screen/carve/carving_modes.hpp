#pragma once
#include "screen/carve/carving_sheet.hpp"

namespace platewright::screen {

/// The model's modes: how each moves, and what a stroke of the scraper does to it at each place.
class ModesSheet {
public:
    /// Moves with the clock while it plays.
    plot::PlatePicture motion(const trends::PlateStudy& study, bool two_piece) const;
    plot::PlatePicture strokes(const trends::PlateStudy& study, bool two_piece) const;
    void motion_side(const ViewContext& context, const trends::PlateStudy& study);
    void strokes_side(const ViewContext& context, const trends::PlateStudy& study,
                      const PlateSpot& spot);

private:
    void list(const ViewContext& context, const trends::PlateStudy& study);
    int chosen(const trends::PlateStudy& study) const;

    int mode_ = -1; // index into the study's modes; -1: the ring mode
    bool plays_ = true;
};

} // namespace platewright::screen
