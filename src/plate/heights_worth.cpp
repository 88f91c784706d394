#include "plate/heights_worth.hpp"

#include <Eigen/Cholesky>

#include <array>
#include <cmath>

namespace platewright::plate {
namespace {

constexpr std::array k_along{0.2, 0.35, 0.5, 0.65, 0.8}; // of the length
constexpr double k_worth_asking = 0.8;                   // remaining deviation that is asked for

FitMatrix with_heights(const PlateModel& model, const PlateFit& fit,
                       const std::vector<Point>& places) {
    const auto n = static_cast<Eigen::Index>(places.size());
    Eigen::MatrixXd slope = Eigen::MatrixXd::Zero(n, k_fit_unknowns);
    slope.rightCols<k_arch_unknowns>() = model.arching().at(places).slopes(fit.arch);
    const double sd_mm = model.arching().priors().reading_mm;
    Eigen::MatrixXd read = slope * fit.covariance * slope.transpose();
    read.diagonal().array() += sd_mm * sd_mm;
    const Eigen::MatrixXd both = slope * fit.covariance;
    return fit.covariance - FitMatrix(both.transpose() * read.ldlt().solve(both));
}

} // namespace

std::optional<HeightsWorth> heights_worth(const PlateModel& model, const PlateFit& fit,
                                          const FittedState& now, const FittedState& then,
                                          std::span<const ShiftForecast> forecasts) {
    HeightsWorth worth;
    const Outline& outline = model.form().outline;
    for (const double share : k_along) {
        const double y = share * outline.size.length_mm;
        const auto e = outline.extent(y);
        worth.places.push_back({0.5 * (e.left_mm + e.right_mm), y});
    }
    const FitMatrix narrower = with_heights(model, fit, worth.places);
    const auto followed = follow(model, now.modes.shapes, then.modes.shapes);
    double gained = 0.0;
    for (const ShiftForecast& f : forecasts) {
        const int before = mode_index(now.names, f.number);
        const int after = before < 0 ? -1 : followed[static_cast<std::size_t>(before)];
        if (after < 0 || !(f.shift_sd_hz > 0.0))
            continue;
        const FitVector slope = then.by_unknown.col(after) - now.by_unknown.col(before);
        const double was = slope.dot(fit.covariance * slope);
        const double is = std::max(0.0, slope.dot(narrower * slope));
        if (!(was > 0.0))
            continue;
        // what is not of the fit's covariance (the model's own error) stays
        const double own = std::max(0.0, f.shift_sd_hz * f.shift_sd_hz - was);
        const double remains = std::sqrt((own + is) / (own + was));
        if ((1.0 - remains) * f.shift_sd_hz <= gained)
            continue;
        gained = (1.0 - remains) * f.shift_sd_hz;
        worth.number = f.number;
        worth.remains = remains;
    }
    if (worth.number == 0 || worth.remains > k_worth_asking)
        return std::nullopt;
    return worth;
}

} // namespace platewright::plate
