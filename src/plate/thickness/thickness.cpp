#include "plate/thickness/thickness.hpp"

#include "base/stats.hpp"
#include "plate/shape/spots.hpp"
#include "wording/say.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace platewright::plate {
namespace {

using wording::figure;
using wording::say;

constexpr double k_least_mm = 0.5; // no plate of wood stands being so thin
// The most that a plate may be thick; a double bass, rough, is thicker than a violin in tenths.
constexpr double k_most_mm = 15.0, k_most_of_bass_mm = 25.0;
constexpr double k_bass_length_mm = 900.0; // a cello is shorter
constexpr double k_forgiven_mm = 2.0;      // outside the outline: a caliper's foot is that wide
constexpr std::size_t k_least_readings = 3;

std::string called(const ThicknessReading& reading, std::size_t index) {
    return reading.name.empty() ? say("Reading {} (at {}, {} mm)", index + 1,
                                      figure(reading.at.x_mm, 1), figure(reading.at.y_mm, 1))
                                : say("Reading {} (\"{}\")", index + 1, reading.name);
}

double most_mm(const Outline& outline) {
    return outline.size.length_mm > k_bass_length_mm ? k_most_of_bass_mm : k_most_mm;
}

std::optional<base::Fault> fault_in_units(std::span<const ThicknessReading> readings,
                                          const Outline& outline) {
    std::vector<double> values;
    for (const auto& reading : readings)
        values.push_back(reading.thickness_mm);
    const double middle = base::median(values);
    if (middle > 0.0 && middle < 0.7)
        return base::Fault{say(
            "The readings look like inches (half of them are below {}): thickness is taken in mm. "
            "Nothing was stored.",
            figure(middle, 3))};
    if (middle > most_mm(outline) && middle < 12.0 * most_mm(outline))
        return base::Fault{say(
            "The readings look like tenths of a millimetre (half of them are above {}): thickness "
            "is taken in mm. Nothing was stored.",
            figure(middle, 1))};
    return std::nullopt;
}

std::optional<base::Fault> fault_in_one(std::span<const ThicknessReading> readings, std::size_t i,
                                        const Outline& outline) {
    const auto& r = readings[i];
    if (!std::isfinite(r.thickness_mm) || !(r.thickness_mm > 0.0))
        return base::Fault{say("{}: {} mm is no thickness. Nothing was stored.", called(r, i),
                               figure(r.thickness_mm, 2))};
    if (r.thickness_mm < k_least_mm)
        return base::Fault{
            say("{}: {} mm is thinner than any plate; is it in inches? Nothing was stored.",
                called(r, i), figure(r.thickness_mm, 3))};
    if (r.thickness_mm > most_mm(outline))
        return base::Fault{
            say("{}: {} mm is thicker than any plate; was the decimal point left out? Nothing was "
                "stored.",
                called(r, i), figure(r.thickness_mm, 1))};
    if (!std::isfinite(r.at.x_mm) || !std::isfinite(r.at.y_mm) ||
        (!outline.holds(r.at) && distance_mm(outline.rim, r.at) > k_forgiven_mm))
        return base::Fault{say("{} lies outside the outline. Nothing was stored.", called(r, i))};
    for (std::size_t k = 0; k < i; ++k)
        if (std::hypot(r.at.x_mm - readings[k].at.x_mm, r.at.y_mm - readings[k].at.y_mm) < 0.5)
            return base::Fault{say("{} is at the same place as reading {}: keep one of the two ({} "
                                   "mm, {} mm). Nothing "
                                   "was stored.",
                                   called(r, i), k + 1, figure(readings[k].thickness_mm, 2),
                                   figure(r.thickness_mm, 2))};
    return std::nullopt;
}

std::vector<FieldReading> values_of(std::span<const ThicknessReading> readings) {
    std::vector<FieldReading> values;
    for (const auto& reading : readings)
        values.push_back({reading.at, reading.thickness_mm});
    return values;
}

double mean_of(std::span<const ThicknessReading> readings) {
    double sum = 0.0;
    for (const auto& reading : readings)
        sum += reading.thickness_mm;
    return sum / static_cast<double>(readings.size());
}

} // namespace

std::optional<base::Fault> fault_in(std::span<const ThicknessReading> readings,
                                    const Outline& outline) {
    if (readings.size() < k_least_readings)
        return base::Fault{wording::say_count(
            std::ssize(readings),
            "A thickness map needs at least three readings; there is {}. Nothing was stored.",
            "A thickness map needs at least three readings; there are {}. Nothing was stored.")};
    if (const auto fault = fault_in_units(readings, outline))
        return fault;
    for (std::size_t i = 0; i < readings.size(); ++i)
        if (const auto fault = fault_in_one(readings, i, outline))
            return fault;
    return std::nullopt;
}

ThicknessMap::ThicknessMap(std::vector<ThicknessReading> readings, const Outline& outline,
                           double reading_sd_mm)
    : readings_(std::move(readings)) {
    if (const auto fault = fault_in(readings_, outline))
        throw std::invalid_argument("ThicknessMap: " + fault->what);
    // a plate's thickness wanders by some tenths over a bout (common practice, no source)
    const double mean = mean_of(readings_);
    field_ = std::make_shared<SmoothField>(values_of(readings_),
                                           FieldPrior{.mean = mean,
                                                      .sd = 0.2 * mean,
                                                      .reach_mm = 0.28 * outline.size.length_mm,
                                                      .noise_sd = reading_sd_mm});
}

std::vector<Point> grid_inside(const Outline& outline, double step_mm) {
    std::vector<Point> places;
    for (double y = 0.5 * step_mm; y < outline.size.length_mm; y += step_mm) {
        const auto e = outline.extent(y);
        const double middle = 0.5 * (e.left_mm + e.right_mm);
        const int half = static_cast<int>(0.5 * (e.right_mm - e.left_mm) / step_mm);
        for (int k = -half; k <= half; ++k)
            if (outline.holds({middle + k * step_mm, y}))
                places.push_back({middle + k * step_mm, y});
    }
    return places;
}

ThicknessFacts describe(const ThicknessMap& map, const Outline& outline) {
    ThicknessFacts facts;
    const double length = outline.size.length_mm;
    const auto places = grid_inside(outline, length / 30.0);
    const auto centre = *spot_place(outline, taps::Spot::centre);
    const double edge_mm = 12.0 * length / 355.0;
    double middle_count = 0.0, edge_count = 0.0, left = 0.0, left_count = 0.0, right = 0.0,
           right_count = 0.0;
    facts.thinnest_mm = 1e9;
    for (const auto& p : places) {
        const double h = map.thickness_mm(p);
        facts.mean_mm += h / static_cast<double>(places.size());
        if (h < facts.thinnest_mm) {
            facts.thinnest_mm = h;
            facts.thinnest = p;
        }
        if (std::hypot(p.x_mm - centre.x_mm, p.y_mm - centre.y_mm) < 0.25 * outline.size.waist_mm) {
            facts.middle_mm += h;
            ++middle_count;
        }
        if (distance_mm(outline.rim, p) < 1.5 * edge_mm) {
            facts.edge_mm += h;
            ++edge_count;
        }
        const double side = p.x_mm - centre.x_mm;
        (side < 0.0 ? left : right) += std::abs(side) > 1e-6 ? h : 0.0;
        (side < 0.0 ? left_count : right_count) += std::abs(side) > 1e-6 ? 1.0 : 0.0;
    }
    facts.middle_mm /= std::max(1.0, middle_count);
    facts.edge_mm /= std::max(1.0, edge_count);
    facts.middle_to_edge = facts.middle_mm / facts.edge_mm;
    facts.left_less_right_mm =
        left / std::max(1.0, left_count) - right / std::max(1.0, right_count);
    facts.thinnest_sd_mm = map.sd_mm(facts.thinnest);

    const Eigen::MatrixXd covariance = map.field().covariance(places);
    const double noise = map.field().prior().noise_sd;
    double best = -1.0;
    Eigen::Index best_at = 0;
    for (Eigen::Index k = 0; k < covariance.cols(); ++k) {
        const double gained = covariance.col(k).squaredNorm() / (covariance(k, k) + noise * noise);
        if (gained > best) {
            best = gained;
            best_at = k;
        }
    }
    facts.next_reading = places[static_cast<std::size_t>(best_at)];
    facts.worst_sd_mm = std::sqrt(covariance.diagonal().maxCoeff());
    const Eigen::VectorXd after =
        covariance.diagonal() -
        covariance.col(best_at).cwiseAbs2() / (covariance(best_at, best_at) + noise * noise);
    facts.worst_sd_after_mm = std::sqrt(std::max(0.0, after.maxCoeff()));
    return facts;
}

} // namespace platewright::plate
