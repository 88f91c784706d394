#include "plate/fit/next_measurement.hpp"

#include "plate/fit/fit_inside.hpp"

#include <Eigen/Cholesky>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

namespace platewright::plate {
namespace {

constexpr double k_worth = 0.9;     // of a deviation: what leaves more is not worth being told
constexpr double k_worth_hz = 0.05; // a tenth of a Hz of the interval: less is not read off either
constexpr std::array k_along{0.08, 0.25, 0.5, 0.75, 0.92}; // where a long-arch template is read
constexpr double k_offcut_sd = 0.05;                       // of ln E_L by a bar's tap and its size
constexpr double k_rings_sd = 0.035;                       // two degrees, by eye
constexpr double k_ratio_sd = 3e-4;                        // of ln(with / without): taps, untouched

// Minutes that each takes (common practice, no source).
constexpr double k_mass_min = 2.0, k_flex_min = 4.0, k_heights_min = 5.0, k_re_hang_min = 3.0,
                 k_scales_min = 1.0, k_offcut_min = 20.0, k_rings_min = 1.0;

// A forecast as a straight line in the unknowns.
struct Line {
    int number = 0;
    FitVector slope;
    double own = 0.0; // variance beside the fit's covariance
};

// Rows of one measurement and the covariance of its errors.
struct Rows {
    Eigen::MatrixXd slope;
    Eigen::MatrixXd error;
};

class Scorer {
public:
    Scorer(const PlateModel& model, const PlateFit& fit, const FittedState& now,
           const FittedState& then, std::span<const ShiftForecast> forecasts)
        : fit_(fit) {
        const auto followed = follow(model, now.modes.shapes, then.modes.shapes);
        for (const ShiftForecast& f : forecasts) {
            const int before = mode_index(now.names, f.number);
            const int after = before < 0 || before >= static_cast<int>(followed.size())
                                  ? -1
                                  : followed[static_cast<std::size_t>(before)];
            if (after < 0)
                continue;
            Line line{f.number, then.by_unknown.col(after) - now.by_unknown.col(before), 0.0};
            line.own =
                std::max(0.0, f.shift_sd_hz * f.shift_sd_hz - variance(line, fit.covariance));
            lines_.push_back(line);
        }
    }

    /// Fills in number, remains and score.
    void score(NextMeasurement& m, const Rows& rows) const {
        const Eigen::MatrixXd both = rows.slope * fit_.covariance;
        const Eigen::MatrixXd seen = both * rows.slope.transpose() + rows.error;
        const FitMatrix narrower =
            fit_.covariance - FitMatrix(both.transpose() * seen.ldlt().solve(both));
        double was_all = 0.0, is_all = 0.0;
        for (const Line& line : lines_) {
            const double was = line.own + variance(line, fit_.covariance);
            const double is = line.own + std::max(0.0, variance(line, narrower));
            was_all += was;
            is_all += is;
            if (const double gained = std::sqrt(was) - std::sqrt(is); gained > m.gained_hz) {
                m.gained_hz = gained;
                m.remains = std::sqrt(is / was);
                m.number = line.number;
            }
        }
        m.score = was_all > 0.0 ? -0.5 * std::log(is_all / was_all) / m.minutes : 0.0;
    }

private:
    static double variance(const Line& line, const FitMatrix& covariance) {
        return line.slope.dot(covariance * line.slope);
    }
    const PlateFit& fit_;
    std::vector<Line> lines_;
};

Rows rows_of(std::span<const WeighedMode> weighed, const LaidMass& mass,
             std::span<const int> numbers, const FittedState& now) {
    const auto n = static_cast<Eigen::Index>(weighed.size());
    Rows rows{Eigen::MatrixXd(n, k_fit_unknowns), Eigen::MatrixXd::Zero(n, n)};
    for (Eigen::Index i = 0; i < n; ++i) {
        const WeighedMode& a = weighed[static_cast<std::size_t>(i)];
        rows.slope.row(i) =
            weighed_slope(a, now.modes.frequency_hz[a.index], now.by_unknown.col(a.index))
                .transpose();
        const double model = weighed_model_sd(numbers[static_cast<std::size_t>(i)], a.log_ratio,
                                              mass.mass_g, now.mass_g);
        rows.error(i, i) = k_ratio_sd * k_ratio_sd + model * model;
        for (Eigen::Index j = 0; j < n; ++j)
            for (std::size_t k = 0; k < k_round; ++k)
                rows.error(i, j) +=
                    a.elsewhere[k] * weighed[static_cast<std::size_t>(j)].elsewhere[k] / k_round;
    }
    return rows;
}

Rows one_row(const FitVector& slope, double sd) {
    return {slope.transpose(), Eigen::MatrixXd::Constant(1, 1, sd * sd)};
}

} // namespace

std::vector<Point> mass_places(const Outline& outline) {
    constexpr std::array k_lengths{0.03, 0.12, 0.22, 0.35, 0.5, 0.65, 0.78, 0.88, 0.97};
    constexpr std::array k_beside{0.45, 0.8}; // of the half width
    constexpr double k_from_edge_mm = 8.0;
    std::vector<Point> places;
    for (const double along : k_lengths) {
        const double y = along * outline.size.length_mm;
        const auto e = outline.extent(y);
        const double middle = 0.5 * (e.left_mm + e.right_mm);
        const auto add = [&](Point p) {
            if (outline.holds(p) && distance_mm(outline.rim, p) >= k_from_edge_mm)
                places.push_back(p);
        };
        add({middle, y});
        for (const double beside : k_beside)
            for (const double edge : {e.left_mm, e.right_mm})
                add({middle + beside * (edge - middle), y});
    }
    return places;
}

std::vector<NextMeasurement> next_measurements(const PlateModel& model, const PlateFit& fit,
                                               const Eigen::VectorXd& thickness_mm,
                                               const FittedState& now, const FittedState& then,
                                               std::span<const ShiftForecast> forecasts,
                                               const Measurable& what) {
    const FitPriors usual;
    const Scorer scorer(model, fit, now, then, forecasts);
    const Eigen::VectorXd h = (thickness_mm.array() + fit.thickness_mm).matrix();
    std::vector<NextMeasurement> all;
    const auto add = [&](NextMeasurement m, const Rows& rows) {
        scorer.score(m, rows);
        if (m.remains <= k_worth && m.gained_hz >= k_worth_hz)
            all.push_back(std::move(m));
    };
    std::vector<LaidMass> masses;
    for (const Point p : what.mass_places)
        masses.push_back({p, what.mass_g});
    std::vector<int> indices, numbers;
    for (const int number : {1, 2, 5})
        if (const int index = mode_index(now.names, number);
            index >= 0 && index < now.modes.frequency_hz.size()) {
            indices.push_back(index);
            numbers.push_back(number);
        }
    const auto weighed =
        weighed_modes(model, h, fit.arch, fit.wood, now.modes, masses, indices, true);
    for (std::size_t i = 0; i < masses.size(); ++i) {
        NextMeasurement m{MeasurementKind::mass, masses[i]};
        m.minutes = k_mass_min;
        if (weighed[i].size() == indices.size())
            add(std::move(m), rows_of(weighed[i], masses[i], numbers, now));
    }
    for (std::size_t i = 0; i < what.flexes.size(); ++i) {
        NextMeasurement m{MeasurementKind::flex};
        m.flex = i;
        m.minutes = k_flex_min;
        const FlexValue value = flex_value(model, h, fit.arch, fit.wood, what.flexes[i]);
        add(std::move(m), one_row(slope_of(value), std::hypot(what.flexes[i].sd_mm,
                                                              usual.flex * value.deflection_mm)));
    }
    if (!what.has_heights) {
        NextMeasurement m{MeasurementKind::heights};
        m.minutes = k_heights_min;
        const Outline& outline = model.form().outline;
        for (const double share : k_along) {
            const double y = share * outline.size.length_mm;
            const auto e = outline.extent(y);
            m.heights.push_back({0.5 * (e.left_mm + e.right_mm), y});
        }
        const auto n = static_cast<Eigen::Index>(m.heights.size());
        const double sd_mm = model.arching().priors().reading_mm;
        Rows rows{Eigen::MatrixXd::Zero(n, k_fit_unknowns),
                  sd_mm * sd_mm * Eigen::MatrixXd::Identity(n, n)};
        rows.slope.rightCols<k_arch_unknowns>() = model.arching().at(m.heights).slopes(fit.arch);
        add(std::move(m), rows);
    }
    NextMeasurement again{MeasurementKind::re_hang};
    again.minutes = k_re_hang_min;
    Rows rows{Eigen::MatrixXd(static_cast<Eigen::Index>(indices.size()), k_fit_unknowns), {}};
    rows.error = Eigen::MatrixXd::Zero(rows.slope.rows(), rows.slope.rows());
    for (std::size_t k = 0; k < indices.size(); ++k) {
        const auto i = static_cast<Eigen::Index>(k);
        rows.slope.row(i) = now.by_unknown.col(indices[k]).transpose();
        // the model's error is the same as before: nothing new is told beyond it
        rows.error(i, i) = (usual.repeat * usual.repeat + usual.model * usual.model) *
                           std::pow(now.modes.frequency_hz[indices[k]], 2);
    }
    add(std::move(again), rows);
    if (!what.is_weighed) {
        NextMeasurement m{MeasurementKind::scales};
        m.minutes = k_scales_min;
        FitVector slope = FitVector::Zero();
        slope[static_cast<Eigen::Index>(FitUnknown::density)] = now.mass_g;
        add(std::move(m), one_row(slope, usual.mass * now.mass_g));
    }
    NextMeasurement offcut{MeasurementKind::offcut};
    offcut.minutes = k_offcut_min;
    add(std::move(offcut),
        one_row(FitVector::Unit(static_cast<Eigen::Index>(FitUnknown::e_l)), k_offcut_sd));
    if (!what.has_rings) {
        NextMeasurement m{MeasurementKind::rings};
        m.minutes = k_rings_min;
        add(std::move(m), one_row(FitVector::Unit(k_ring), k_rings_sd));
    }
    std::ranges::sort(all, std::greater{}, &NextMeasurement::score);
    // of masses the best alone: its mirror image tells the same
    const auto best = std::ranges::find(all, MeasurementKind::mass, &NextMeasurement::kind);
    if (best != all.end())
        all.erase(std::remove_if(
                      best + 1, all.end(),
                      [](const NextMeasurement& m) { return m.kind == MeasurementKind::mass; }),
                  all.end());
    return all;
}

} // namespace platewright::plate
