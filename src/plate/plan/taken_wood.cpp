#include "plate/plan/taken_wood.hpp"

#include <Eigen/Cholesky>

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <vector>

namespace platewright::plate {
namespace {

// Sizes of the departure from the plan, each 1.6 times the one before (mm). Smaller ones than a
// reading errs would fit as well, and would be believed where the plan was not followed.
constexpr std::array k_departures_mm{0.05, 0.08, 0.13, 0.2, 0.32, 0.5};
constexpr double k_usual_times = 1.0; // the plan, about carried out

/// How what was taken may differ from the plan, before any reading, and how a reading errs;
/// standard deviations.
struct Departure {
    double times_sd = 0.0; // of the whole, in parts of the plan
    double level_mm = 0.0; // all over
    double lumps_mm = 0.0; // from place to place
    double uneven = 0.0;   // from place to place, in parts of what is planned there
    double share = 0.0;    // how likely beforehand
    double noise_mm = 0.0; // of a reading
};

// At most a few tenths all over, any number of times.
constexpr Departure k_open{.times_sd = 1.0, .level_mm = 0.3};
// Laid out as planned: a fifth more or less, and unevenly by so many parts of what was planned
// there and on the mean, for some lands beside its place (our own choice); its level is what an
// edge of a hollow blurs.
constexpr std::array k_lumps_of_plan{0.35, 1.0};
constexpr Departure k_followed{.times_sd = 0.2, .level_mm = 0.005};
// A caliper that is set down by hand errs as usual or more; nobody says how much.
constexpr std::array k_noise_times{1.0, 1.5, 2.25};

std::vector<Departure> departures(bool is_weighed, double noise_mm, double planned_mm) {
    std::vector<Departure> all;
    const double halved = is_weighed ? 0.5 : 1.0;
    for (const double times : k_noise_times) {
        for (const double mm : k_departures_mm) {
            all.push_back(k_open);
            all.back().lumps_mm = mm;
            all.back().share = halved / static_cast<double>(k_departures_mm.size());
            all.back().noise_mm = times * noise_mm;
        }
        for (const double uneven : k_lumps_of_plan)
            if (is_weighed) {
                all.push_back(k_followed);
                all.back().uneven = uneven;
                all.back().lumps_mm = uneven * planned_mm;
                all.back().share = (1.0 - halved) / static_cast<double>(k_lumps_of_plan.size());
                all.back().noise_mm = times * noise_mm;
            }
    }
    return all;
}

using Index = Eigen::Index;

/// All that does not hang on the size of the departure.
struct Problem {
    Eigen::MatrixXd known; // covariance of all readings of the plate before, before ones first
    Eigen::VectorXd off;   // readings less what is expected of them
    Eigen::VectorXd planned_after, planned_here;            // mm
    Eigen::MatrixXd alike_after, alike_between, alike_here; // correlations of the departure
};

Eigen::VectorXd planned_at(const TakenPrior& taken, std::span<const Point> places) {
    Eigen::VectorXd mm = Eigen::VectorXd::Zero(std::ssize(places));
    if (taken.planned_mm)
        for (Index i = 0; i < mm.size(); ++i)
            mm[i] = taken.planned_mm(places[static_cast<std::size_t>(i)]);
    return mm;
}

Eigen::MatrixXd alike(std::span<const Point> a, std::span<const Point> b, double reach_mm) {
    Eigen::MatrixXd r(std::ssize(a), std::ssize(b));
    for (Index j = 0; j < r.cols(); ++j)
        for (Index i = 0; i < r.rows(); ++i)
            r(i, j) = matern_5_2(a[static_cast<std::size_t>(i)], b[static_cast<std::size_t>(j)],
                                 reach_mm);
    return r;
}

/// Covariance of what was taken at two sets of places, where `a` and `b` were planned.
Eigen::MatrixXd covariance_of(const Departure& d, const Eigen::VectorXd& a,
                              const Eigen::VectorXd& b, const Eigen::MatrixXd& alike) {
    const Eigen::MatrixXd planned = a * b.transpose();
    return ((d.uneven * d.uneven * planned.array() + d.lumps_mm * d.lumps_mm) * alike.array() +
            d.times_sd * d.times_sd * planned.array() + d.level_mm * d.level_mm)
        .matrix();
}

Problem problem_of(std::span<const FieldReading> before, std::span<const FieldReading> after,
                   const FieldPrior& plate, const TakenPrior& taken,
                   std::span<const Point> places) {
    std::vector<Point> read, read_after;
    Eigen::VectorXd value(std::ssize(before) + std::ssize(after));
    for (const auto& readings : {before, after})
        for (const FieldReading& reading : readings) {
            value[std::ssize(read)] = reading.value;
            read.push_back(reading.at);
        }
    for (const FieldReading& reading : after)
        read_after.push_back(reading.at);
    Problem p;
    p.planned_after = planned_at(taken, read_after);
    p.planned_here = planned_at(taken, places);
    p.alike_after = alike(read_after, read_after, taken.reach_mm);
    p.alike_between = alike(read_after, places, taken.reach_mm);
    p.alike_here = alike(places, places, taken.reach_mm);
    p.known.resize(value.size(), value.size());
    for (Index j = 0; j < value.size(); ++j)
        for (Index i = 0; i < value.size(); ++i)
            p.known(i, j) = prior_covariance(plate, read[static_cast<std::size_t>(i)],
                                             read[static_cast<std::size_t>(j)]);
    p.off = value.array() - plate.mean;
    p.off.tail(std::ssize(after)) += k_usual_times * p.planned_after;
    return p;
}

/// The answer for one kind of departure.
class Kriged {
public:
    Kriged(const Problem& problem, const Departure& departure)
        : problem_(problem), departure_(departure) {
        Eigen::MatrixXd covariance = problem.known;
        const Index n = problem.planned_after.size();
        covariance.bottomRightCorner(n, n) += covariance_of(
            departure, problem.planned_after, problem.planned_after, problem.alike_after);
        covariance.diagonal().array() += departure.noise_mm * departure.noise_mm;
        factor_.compute(covariance);
        weights_ = factor_.solve(problem.off);
        const Eigen::MatrixXd lower = factor_.matrixL();
        log_weight_ = std::log(departure.share) - 0.5 * problem.off.dot(weights_) -
                      lower.diagonal().array().log().sum();
    }

    /// Of how likely it is with the readings.
    double log_weight() const { return log_weight_; }

    TakenWood taken() const {
        const Index n = problem_.planned_after.size(), m = problem_.planned_here.size();
        // a column a place, and last how often the plan was carried out
        Eigen::MatrixXd cross = Eigen::MatrixXd::Zero(weights_.size(), m + 1);
        cross.bottomLeftCorner(n, m) = -covariance_of(
            departure_, problem_.planned_after, problem_.planned_here, problem_.alike_between);
        const double times = departure_.times_sd * departure_.times_sd;
        cross.col(m).tail(n) = -times * problem_.planned_after;
        const Eigen::VectorXd gained = cross.transpose() * weights_;
        factor_.matrixL().solveInPlace(cross);
        TakenWood out;
        out.mm = k_usual_times * problem_.planned_here + gained.head(m);
        out.covariance = covariance_of(departure_, problem_.planned_here, problem_.planned_here,
                                       problem_.alike_here);
        out.covariance.noalias() -= cross.leftCols(m).transpose() * cross.leftCols(m);
        out.times = k_usual_times + gained[m];
        out.times_sd = std::sqrt(std::max(0.0, times - cross.col(m).squaredNorm()));
        return out;
    }

private:
    const Problem& problem_;
    Departure departure_;
    Eigen::LLT<Eigen::MatrixXd> factor_;
    Eigen::VectorXd weights_;
    double log_weight_ = 0.0;
};

} // namespace

TakenWood taken_wood(std::span<const FieldReading> before, std::span<const FieldReading> after,
                     const FieldPrior& plate, const TakenPrior& taken,
                     std::span<const Point> places) {
    if (before.empty() || after.empty() || places.empty())
        throw std::invalid_argument("taken_wood: needs readings before and after, and places");
    const Problem problem = problem_of(before, after, plate, taken, places);
    std::vector<Kriged> all;
    double best = -1e300;
    for (const Departure& departure :
         departures(taken.is_weighed, plate.noise_sd, problem.planned_here.mean())) {
        all.emplace_back(problem, departure);
        best = std::max(best, all.back().log_weight());
    }
    std::vector<double> shares;
    double whole = 0.0;
    for (const Kriged& one : all) {
        shares.push_back(std::exp(one.log_weight() - best));
        whole += shares.back();
    }
    // A mixture's mean, and its covariance: the mean one and that of the means.
    constexpr double k_no_share = 5e-3;
    const auto m = static_cast<Index>(places.size());
    TakenWood mixed{Eigen::VectorXd::Zero(m), Eigen::MatrixXd::Zero(m, m), 0.0, 0.0};
    double square = 0.0;
    for (std::size_t k = 0; k < all.size(); ++k) {
        const double share = shares[k] / whole;
        if (share < k_no_share)
            continue;
        const TakenWood one = all[k].taken();
        mixed.mm += share * one.mm;
        mixed.covariance += share * (one.covariance + one.mm * one.mm.transpose());
        mixed.times += share * one.times;
        square += share * (one.times_sd * one.times_sd + one.times * one.times);
    }
    mixed.covariance -= mixed.mm * mixed.mm.transpose();
    mixed.times_sd = std::sqrt(std::max(0.0, square - mixed.times * mixed.times));
    return mixed;
}

} // namespace platewright::plate
