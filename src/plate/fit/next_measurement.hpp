#pragma once
/// What to measure next: of all that could be done, what narrows the forecast in front most for its
/// minutes.

#include "plate/fit/fit.hpp"

#include <vector>

namespace platewright::plate {

enum class MeasurementKind {
    mass,    // a mass on a place: bare - with - bare
    flex,    // one of the flex readings offered
    heights, // of the outside, on the centre line
    re_hang, // hang the plate anew and tap it again
    scales,  // weigh the plate
    offcut,  // E_L of a bar from the same wood
    rings,   // how far the rings lean, on the end grain
};

/// Something that could be measured, and what it would leave of the forecast.
struct NextMeasurement {
    MeasurementKind kind = MeasurementKind::re_hang;
    LaidMass mass;              // of `mass`
    std::size_t flex = 0;       // of `flex`: the place in the list offered
    std::vector<Point> heights; // of `heights`
    double minutes = 0.0;       // common practice, no source
    int number = 0;             // the mode whose forecast gains most
    double remains = 1.0;       // of that forecast's deviation
    double gained_hz = 0.0;     // how much less that deviation would be
    double score = 0.0;         // -ln(what is left of all forecasts' deviations together) a minute
};

/// What may be offered beside masses and heights.
struct Measurable {
    std::vector<FlexReading> flexes; // supports, load and span; their deflection is not looked at
    std::vector<Point> mass_places;  // where a mass can be laid and found again
    double mass_g = 1.0;             // a hundredth of the plate's, about
    bool is_weighed = true;          // the plate's mass is known
    bool has_heights = false;        // the arch was read
    bool has_rings = false;          // the end grain was looked at
};

/// Best first, one mass at most; what would narrow no forecast by a tenth, or none by
/// a tenth of a Hz in its interval, is left out, so that an empty list says:
/// enough, nothing is worth its minutes. Closed form for straight lines and Gaussian errors: the
/// covariance conditioned on one reading more (K. Chaloner, I. Verdinelli, Statist. Sci. 10, 1995,
/// 273, from memory). What a forecast's deviation has beside the fit's covariance (the model's own
/// error, the samples' spread) is not narrowed by anything.
/// now, then: the plate before and after what is in front (a plan, a rehearsed cut); forecasts: of
/// that. Cost: 0.3 s for twenty places and three flexes. Threads: pure.
std::vector<NextMeasurement> next_measurements(const PlateModel& model, const PlateFit& fit,
                                               const Eigen::VectorXd& thickness_mm,
                                               const FittedState& now, const FittedState& then,
                                               std::span<const ShiftForecast> forecasts,
                                               const Measurable& what);

/// Places for masses: on the centre line and in pairs beside it, well inside the edge, from one
/// another as far as that a few millimetres are told apart by eye.
std::vector<Point> mass_places(const Outline& outline);

} // namespace platewright::plate
