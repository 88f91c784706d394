#pragma once
#include "plot/plate/plate_picture.hpp"
#include "trends/model/plate_study.hpp"
#include "trends/review/map_review.hpp"

#include <string>

namespace platewright::screen {

/// From what was computed of a plate to the pictures of it; used by the window and, for files, by
/// the command line. No Dear ImGui here. Pure.

/// From which side a plate is seen, scroll end up, and on which hand the bass strings lie then:
/// what is left from outside is right from inside, and a back's outside is seen from behind. They
/// lie where the bar is; without one, as an instrument is strung for the right hand.
std::string sides_of(modes::Part part, const std::optional<plate::BassBar>& bar, bool from_inside);

/// Outline, f-holes, bar and joint of a plate, with nothing on it.
plot::PlatePicture bare_picture(const plate::PlateForm& form, bool two_piece);

/// The thickness map with its readings, the thinnest place, and where the next reading helps most.
plot::PlatePicture thickness_picture(const trends::MapReview& review, bool two_piece);

/// What a stroke that takes 0.1 mm off 10 cm² does to a mode, at each place. `mode`: index into the
/// study's modes.
plot::PlatePicture stroke_picture(const trends::PlateStudy& study, int mode, bool two_piece);

/// How far the plate stands out at a moment of its vibration. `phase` in parts of a period.
plot::PlatePicture shape_picture(const trends::PlateStudy& study, int mode, double phase,
                                 bool two_piece);

/// Where a plan takes how much: all of it, or the next pass alone; the deepest places marked.
plot::PlatePicture plan_picture(const trends::PlateStudy& study, const Eigen::VectorXd& removal_mm,
                                bool two_piece);

/// The same of a pass as it is taken to the bench: from the inside (left and right exchanged), with
/// the lines between the places that trends::plan_zones speaks of. Its title is for a sheet of
/// paper; where the part is known, sides_of says more.
plot::PlatePicture pass_from_inside(const plate::PlateModel& model, const Eigen::VectorXd& pass_mm,
                                    bool two_piece);

/// "mode 5 (ring)"; a mode without a name by its place in the model: "the model's 4th, 268 Hz".
std::string mode_label(const trends::PlateStudy& study, int mode);

} // namespace platewright::screen
