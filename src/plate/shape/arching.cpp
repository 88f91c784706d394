#include "plate/shape/arching.hpp"

#include "plate/shape/polygon.hpp"
#include "plate/thickness/thickness.hpp"

#include <Eigen/Eigenvalues>

#include <algorithm>
#include <array>
#include <cmath>

namespace platewright::plate {
namespace {

constexpr double k_step_mm = 1.0;
constexpr double k_smoothing = 0.04; // of the length: standard deviation of the width's smoothing

// An arch is drawn with one template for both sides: this much of a departure's variance is the
// same left and right. A guess; half and half would forbid it, 1 would forbid a lopsided plate.
constexpr double k_alike = 0.8;
// A surface departs freely from here inwards (of the length) and this much of it at the rim, whose
// height is the edge's thickness.
constexpr double k_edge = 0.08;
constexpr double k_at_rim = 0.35;
constexpr double k_grid = 1.0 / 14.0; // of the length: fine enough for a reach of 0.17
constexpr double k_least_ends = 0.8;  // less, and the rim is a wall
constexpr double k_least_log = 0.05;  // exponents stay above e^0.05, where the profile is a spike

// (1 - |t|^p)^m inside, 0 outside: flat on top.
double bump(double t, double fullness, double ends) {
    const double a = std::abs(t);
    return a < 1.0 ? std::pow(1.0 - std::pow(a, fullness), ends) : 0.0;
}

// Its derivatives by ln p, -m p (1 - a^p)^(m-1) a^p ln(a), and by ln m, m (1 - a^p)^m ln(1 - a^p).
Eigen::Vector2d bump_by_logs(double t, double fullness, double ends) {
    const double a = std::abs(t);
    if (a >= 1.0 || a < 1e-12)
        return {0.0, 0.0};
    const double power = std::pow(a, fullness), rest = 1.0 - power;
    const double value = ends * std::pow(rest, ends);
    return {-value / rest * power * std::log(a) * fullness, value * std::log1p(-power)};
}

using ProfileShift = Eigen::Matrix<double, k_arch_profile, 1>;

ArchingProfile moved(const ArchingProfile& profile, const ProfileShift& by) {
    ArchingProfile m = profile;
    m.arch_mm += by[0];
    m.long_fullness = std::max(m.long_fullness * std::exp(by[1]), std::exp(k_least_log));
    m.cross_fullness = std::max(m.cross_fullness * std::exp(by[2]), std::exp(k_least_log));
    m.long_ends = std::max(m.long_ends * std::exp(by[3]), k_least_ends);
    m.cross_ends = std::max(m.cross_ends * std::exp(by[4]), k_least_ends);
    return m;
}

double profile_height(const ArchingProfile& p, double along, double across) {
    return p.edge_mm + (p.arch_mm - p.edge_mm) * bump(along, p.long_fullness, p.long_ends) *
                           bump(across, p.cross_fullness, p.cross_ends);
}

ProfileShift profile_slope(const ArchingProfile& p, double along, double across) {
    const double l = bump(along, p.long_fullness, p.long_ends);
    const double c = bump(across, p.cross_fullness, p.cross_ends);
    const double rise = p.arch_mm - p.edge_mm;
    const Eigen::Vector2d by_long = rise * c * bump_by_logs(along, p.long_fullness, p.long_ends);
    const Eigen::Vector2d by_cross =
        rise * l * bump_by_logs(across, p.cross_fullness, p.cross_ends);
    ProfileShift slope;
    slope << l * c, by_long[0], by_cross[0], by_long[1], by_cross[1];
    return slope;
}

// The value of an evenly spaced table, by cubic interpolation (Catmull-Rom).
double look_up(const std::vector<double>& table, double at) {
    const double last = static_cast<double>(table.size() - 1);
    const double place = std::clamp(at / k_step_mm, 0.0, last);
    const auto i = std::min(static_cast<std::size_t>(place), table.size() - 2);
    const double t = place - static_cast<double>(i);
    const double a = table[i > 0 ? i - 1 : 0], b = table[i], c = table[i + 1],
                 d = table[std::min(i + 2, table.size() - 1)];
    return b +
           0.5 * t * (c - a + t * (2.0 * a - 5.0 * b + 4.0 * c - d + t * (3.0 * (b - c) + d - a)));
}

double matern(Point a, Point b, double reach_mm) {
    const double r = std::sqrt(5.0) * std::hypot(a.x_mm - b.x_mm, a.y_mm - b.y_mm) / reach_mm;
    return (1.0 + r + r * r / 3.0) * std::exp(-r);
}

} // namespace

Eigen::VectorXd ArchPlaces::heights_mm(const ArchShift& shift) const {
    const ArchingProfile profile = moved(profile_, shift.head<k_arch_profile>());
    Eigen::VectorXd off = read_mm_;
    for (Eigen::Index k = 0; k < off.size(); ++k) {
        const auto at = static_cast<std::size_t>(k);
        off[k] -= profile_height(profile, read_along_[at], read_across_[at]);
    }
    Eigen::VectorXd z = departures_ * shift.tail<k_arch_departures>() + follow_ * off;
    for (Eigen::Index i = 0; i < z.size(); ++i)
        z[i] += profile_height(profile, along_[i], across_[i]);
    return z;
}

Eigen::MatrixXd ArchPlaces::slopes(const ArchShift& shift) const {
    const ArchingProfile profile = moved(profile_, shift.head<k_arch_profile>());
    Eigen::MatrixXd slope(along_.size(), k_arch_unknowns),
        at_readings(read_mm_.size(), k_arch_profile);
    for (Eigen::Index k = 0; k < at_readings.rows(); ++k) {
        const auto at = static_cast<std::size_t>(k);
        at_readings.row(k) = profile_slope(profile, read_along_[at], read_across_[at]).transpose();
    }
    for (Eigen::Index i = 0; i < slope.rows(); ++i)
        slope.row(i).head<k_arch_profile>() =
            profile_slope(profile, along_[i], across_[i]).transpose();
    slope.leftCols<k_arch_profile>() -= follow_ * at_readings;
    slope.rightCols<k_arch_departures>() = departures_;
    return slope;
}

Arching::Arching(const Outline& outline, const ArchingProfile& profile,
                 std::span<const HeightReading> readings, const ArchPriors& priors)
    : outline_(outline), profile_(profile), priors_(priors) {
    const double length_mm = outline.size.length_mm;
    const int count = static_cast<int>(std::ceil(length_mm / k_step_mm)) + 1;
    const double sd = k_smoothing * length_mm / k_step_mm;
    const int reach = static_cast<int>(std::ceil(4.0 * sd));
    std::vector<double> left, right; // beyond the ends the width is nothing
    for (int k = -reach; k < count + reach; ++k) {
        const auto e = outline.extent(k * k_step_mm);
        left.push_back(e.left_mm);
        right.push_back(e.right_mm);
    }
    for (int k = 0; k < count; ++k) {
        double l = 0.0, r = 0.0, total = 0.0;
        for (int j = -reach; j <= reach; ++j) {
            const double weight = std::exp(-0.5 * j * j / (sd * sd));
            const auto at = static_cast<std::size_t>(k + j + reach);
            l += weight * left[at];
            r += weight * right[at];
            total += weight;
        }
        middle_mm_.push_back(0.5 * (l + r) / total);
        half_mm_.push_back(0.5 * (r - l) / total);
    }
    covariance_.diagonal() << priors.height_mm * priors.height_mm,
        Eigen::Vector2d::Constant(priors.log_fullness * priors.log_fullness),
        Eigen::Vector2d::Constant(priors.log_ends * priors.log_ends),
        Eigen::Matrix<double, k_arch_departures, 1>::Ones();
    departure_mm_ = priors.departure * (profile.arch_mm - profile.edge_mm);
    for (const Point p : grid_inside(outline, k_grid * length_mm))
        grid_.push_back(place(p));
    read(readings);
    spread();
}

Arching::Share Arching::share(Point p) const {
    const double half = look_up(half_mm_, p.y_mm);
    return {2.0 * p.y_mm / outline_.size.length_mm - 1.0,
            half > 1e-6 ? (p.x_mm - look_up(middle_mm_, p.y_mm)) / half : 2.0};
}

Arching::Place Arching::place(Point p) const {
    const double t =
        std::clamp(distance_mm(outline_.rim, p) / (k_edge * outline_.size.length_mm), 0.0, 1.0);
    return {p, k_at_rim + (1.0 - k_at_rim) * t * t * (3.0 - 2.0 * t)};
}

Eigen::VectorXd Arching::prior_to(const Place& p, std::span<const Place> others) const {
    const double reach_mm = priors_.reach * outline_.size.length_mm;
    const Point mirrored{2.0 * look_up(middle_mm_, p.at.y_mm) - p.at.x_mm, p.at.y_mm};
    Eigen::VectorXd k(static_cast<Eigen::Index>(others.size()));
    for (Eigen::Index i = 0; i < k.size(); ++i) {
        const Place& q = others[static_cast<std::size_t>(i)];
        k[i] = departure_mm_ * departure_mm_ * p.free * q.free *
               (matern(p.at, q.at, reach_mm) +
                (2.0 * k_alike - 1.0) * matern(mirrored, q.at, reach_mm));
    }
    return k;
}

// The readings' say on height and fullness, the departure averaged out.
void Arching::read(std::span<const HeightReading> readings) {
    const auto n = static_cast<Eigen::Index>(readings.size());
    read_mm_.resize(n);
    for (const auto& r : readings) {
        read_mm_[static_cast<Eigen::Index>(read_at_.size())] = r.height_mm;
        read_at_.push_back(place(r.at));
    }
    if (n == 0)
        return;
    Eigen::MatrixXd c(n, n);
    for (Eigen::Index i = 0; i < n; ++i)
        c.col(i) = prior_to(read_at_[static_cast<std::size_t>(i)], read_at_);
    c.diagonal().array() += priors_.reading_mm * priors_.reading_mm;
    read_factor_.compute(c);
    constexpr int k_rounds = 8;
    const ArchingProfile typed = profile_;
    using ProfileMatrix = Eigen::Matrix<double, k_arch_profile, k_arch_profile>;
    const ProfileMatrix prior =
        covariance_.topLeftCorner<k_arch_profile, k_arch_profile>().inverse();
    ProfileShift at = ProfileShift::Zero();
    for (int round = 0; round < k_rounds; ++round) {
        const ArchingProfile now = moved(typed, at);
        Eigen::VectorXd off = read_mm_;
        Eigen::MatrixXd slope(n, k_arch_profile);
        for (Eigen::Index k = 0; k < n; ++k) {
            const Share s = share(read_at_[static_cast<std::size_t>(k)].at);
            off[k] -= profile_height(now, s.along, s.across);
            slope.row(k) = profile_slope(now, s.along, s.across).transpose();
        }
        const Eigen::MatrixXd weighed = read_factor_.solve(slope);
        const ProfileMatrix information = prior + slope.transpose() * weighed;
        ProfileShift step = information.ldlt().solve(weighed.transpose() * off - prior * at);
        step *= std::min(
            1.0, 0.7 / std::max(step.tail<k_arch_profile - 1>().cwiseAbs().maxCoeff(), 1e-12));
        covariance_.topLeftCorner<k_arch_profile, k_arch_profile>() = information.inverse();
        at += step;
    }
    profile_ = moved(typed, at);
    weights_ = read_mm_;
    for (Eigen::Index k = 0; k < n; ++k) {
        const Share s = share(read_at_[static_cast<std::size_t>(k)].at);
        weights_[k] -= profile_height(profile_, s.along, s.across);
    }
    read_factor_.solveInPlace(weights_);
}

// The departures that are left, as the few directions that hold most of their variance
// (Karhunen-Loeve, by Nystroem's extension from the grid).
void Arching::spread() {
    const auto g = static_cast<Eigen::Index>(grid_.size());
    const auto n = read_mm_.size();
    Eigen::MatrixXd c(g, g), to_readings(n, g);
    for (Eigen::Index i = 0; i < g; ++i) {
        c.col(i) = prior_to(grid_[static_cast<std::size_t>(i)], grid_);
        if (n > 0)
            to_readings.col(i) = prior_to(grid_[static_cast<std::size_t>(i)], read_at_);
    }
    Eigen::MatrixXd solved(n, g);
    if (n > 0) {
        solved = read_factor_.solve(to_readings);
        c.noalias() -= to_readings.transpose() * solved;
    }
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(c);
    from_grid_ = Eigen::MatrixXd::Zero(g + n, k_arch_departures);
    const double least = 1e-9 * c.diagonal().maxCoeff();
    for (int k = 0; k < std::min<int>(k_arch_departures, static_cast<int>(g)); ++k) {
        const double variance = eigen.eigenvalues()[g - 1 - k];
        if (!(variance > least))
            break; // flat, or known already
        const Eigen::VectorXd e = eigen.eigenvectors().col(g - 1 - k) / std::sqrt(variance);
        from_grid_.col(k).head(g) = e;
        if (n > 0)
            from_grid_.col(k).tail(n) = -solved * e;
    }
}

ArchPlaces Arching::at(std::span<const Point> places) const {
    const auto count = static_cast<Eigen::Index>(places.size());
    const auto n = read_mm_.size();
    ArchPlaces a;
    a.profile_ = profile_;
    a.along_.resize(count);
    a.across_.resize(count);
    a.read_mm_ = read_mm_;
    for (const Place& p : read_at_) {
        const Share s = share(p.at);
        a.read_along_.push_back(s.along);
        a.read_across_.push_back(s.across);
    }
    std::vector<Place> all = grid_;
    all.insert(all.end(), read_at_.begin(), read_at_.end());
    Eigen::MatrixXd known(static_cast<Eigen::Index>(all.size()), count);
    for (Eigen::Index i = 0; i < count; ++i) {
        const Point p = places[static_cast<std::size_t>(i)];
        const Share s = share(p);
        a.along_[i] = s.along;
        a.across_[i] = s.across;
        known.col(i) = prior_to(place(p), all);
    }
    a.departures_ = known.transpose() * from_grid_;
    a.follow_ = Eigen::MatrixXd::Zero(count, n);
    if (n > 0)
        a.follow_ = read_factor_.solve(known.bottomRows(n)).transpose();
    return a;
}

double Arching::height_mm(Point p) const {
    const Share s = share(p);
    const double profile = profile_height(profile_, s.along, s.across);
    return read_at_.empty() ? profile : profile + prior_to(place(p), read_at_).dot(weights_);
}

double Arching::normal_z(Point p) const {
    constexpr double step_mm = 0.25;
    const double slope_x =
        (height_mm({p.x_mm + step_mm, p.y_mm}) - height_mm({p.x_mm - step_mm, p.y_mm})) /
        (2.0 * step_mm);
    const double slope_y =
        (height_mm({p.x_mm, p.y_mm + step_mm}) - height_mm({p.x_mm, p.y_mm - step_mm})) /
        (2.0 * step_mm);
    return 1.0 / std::sqrt(1.0 + slope_x * slope_x + slope_y * slope_y);
}

} // namespace platewright::plate
