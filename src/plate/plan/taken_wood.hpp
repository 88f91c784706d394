#pragma once
/// What came off a plate between two sets of caliper readings, and how sure that is.

#include "plate/thickness/smooth_field.hpp"

#include <functional>
#include <span>

namespace platewright::plate {

/// What is held of the wood taken in a pass before it is read.
struct TakenPrior {
    double reach_mm = 30.0; // hollows are about so wide
    /// What the pass was to take at a place (mm); empty: not known.
    std::function<double(Point)> planned_mm = {};
    /// The scales say that so much came off as planned_mm comes to.
    bool is_weighed = false;
};

/// Wood taken at places of a plate.
struct TakenWood {
    Eigen::VectorXd mm;         // a row a place
    Eigen::MatrixXd covariance; // between all of the places
    double times = 0.0;         // deep beside what was planned, where that is known
    double times_sd = 0.0;
};

/// The plate before is a smooth surface (`plate`, as ThicknessMap holds it); the plate after is
/// that surface less what was taken: some times what was planned, some depth all over, and a
/// departure with its own, shorter reach. All is kriged at once (smooth_field.hpp), so that what
/// readings do not resolve of the graduation, and have in common before and after, is not taken for
/// wood that came off. How large the departure is nobody knows, nor how far this caliper errs: six
/// sizes from 0.05 to 0.5 mm, and readings that err by one to two times what is usual, are weighed
/// by how likely they make the readings, and their answers mixed. Where the scales agree with the
/// plan it is as likely beforehand that the pass was laid out as planned, unevenly as a scraper
/// works, as that it was not: readings alone would leave a pass of half a gram as open as one of
/// five. Cost: 24 n^3/3 + some 6 n m^2 for n readings and m places: 0.2 s for 100 and 700. Threads:
/// pure. Throws std::invalid_argument without readings or places.
TakenWood taken_wood(std::span<const FieldReading> before, std::span<const FieldReading> after,
                     const FieldPrior& plate, const TakenPrior& taken,
                     std::span<const Point> places);

} // namespace platewright::plate
