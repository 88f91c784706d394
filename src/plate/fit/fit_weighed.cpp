#include "modes/mode.hpp"
#include "plate/fit/fit_observer.hpp"
#include "wording/say.hpp"

#include <Eigen/Cholesky>

#include <algorithm>
#include <cmath>

namespace platewright::plate {
namespace {

constexpr double k_foreign = 4.0; // deviations from which a weighing is another plate's or place's
constexpr double k_most_left_out =
    1.0 / 3.0;                      // of the weighings; of more, nothing is to be believed
constexpr int k_weighed_rounds = 3; // of weights by deviations

// Rows of one weighing.
std::vector<Eigen::Index> rows_read(const Observations& o, const WeighedCheck& reading) {
    std::vector<Eigen::Index> rows;
    for (std::size_t i = 0; i < o.rows.size(); ++i)
        if (FitObserver::is_of(o.rows[i], reading))
            rows.push_back(static_cast<Eigen::Index>(i));
    return rows;
}

// Root mean square of what a weighing is off, in deviations: of its own, as they are before it is
// held off, and of what `open` leaves of the plate.
double deviations_of(const Observations& o, const WeighedCheck& reading,
                     const FitMatrix& open = FitMatrix::Zero()) {
    const auto rows = rows_read(o, reading);
    if (rows.empty())
        return 0.0;
    const Eigen::VectorXd off = (o.measured - o.modelled)(rows);
    const Eigen::MatrixXd slope = o.slope(rows, Eigen::all);
    const Eigen::MatrixXd covariance =
        o.own(rows, rows) / FitObserver::held_off(reading.deviations) +
        slope * open * slope.transpose();
    return std::sqrt(off.dot(covariance.ldlt().solve(off)) / static_cast<double>(rows.size()));
}

// What a mode weighs at all places beside what the model has there: one factor, by least squares.
std::vector<WeighedSum> sums_of(const Observations& o) {
    std::vector<WeighedSum> sums;
    for (const FitResidual& first : o.rows) {
        if (first.row != FitRow::weighed ||
            std::any_of(sums.begin(), sums.end(),
                        [&](const WeighedSum& s) { return s.number == first.number; }))
            continue;
        double both = 0.0, model = 0.0;
        for (std::size_t i = 0; i < o.rows.size(); ++i) {
            const auto k = static_cast<Eigen::Index>(i);
            if (o.rows[i].row != FitRow::weighed || o.rows[i].number != first.number)
                continue;
            both += o.measured[k] * o.modelled[k] / o.own(k, k);
            model += o.modelled[k] * o.modelled[k] / o.own(k, k);
        }
        constexpr double k_tells = 0.3; // of the ratio: a mode that stands still there says nothing
        if (model > 1.0 / (k_tells * k_tells))
            sums.push_back({first.number, both / model, 1.0 / std::sqrt(model)});
    }
    std::sort(sums.begin(), sums.end(),
              [](const auto& a, const auto& b) { return a.number < b.number; });
    return sums;
}

std::string doubt_of(std::span<const WeighedCheck> readings, bool is_all) {
    const auto worst =
        std::max_element(readings.begin(), readings.end(), [](const auto& a, const auto& b) {
            return (a.is_used ? 0.0 : a.deviations) < (b.is_used ? 0.0 : b.deviations);
        });
    const std::string number = wording::figure(static_cast<double>(worst->reading + 1), 0);
    return is_all ? wording::say("The weighed taps contradict each other or the map: the model "
                                 "rests on the other taps alone. Weighing {} fits worst ({} "
                                 "deviations off): did the mass lie where it is said?",
                                 number, wording::figure(worst->deviations, 1))
                  : wording::say("Weighing {} doesn't belong to the rest ({} deviations off) and "
                                 "is left out: did the mass lie where it is said?",
                                 number, wording::figure(worst->deviations, 1));
}

} // namespace

Settled settle_weighed(const FitStart& start, Settled alone, FitObserver& observer, PlateFit& fit) {
    auto& readings = observer.weighings();
    const auto count = readings.size();
    for (WeighedCheck& reading : readings)
        reading.is_used = true;
    // by the taps alone first: one that lies far off doesn't get to pull at the others
    if (const Observations first = observer.observe(alone.unknowns); !first.rows.empty())
        for (WeighedCheck& reading : readings)
            reading.deviations = deviations_of(first, reading, alone.covariance);
    Settled best = alone;
    std::size_t left_out = 0;
    for (int round = 0; round < k_weighed_rounds; ++round) {
        observer.take_places_anew();
        best = settle_measured(start, best.unknowns, observer);
        if (best.status != FitStatus::ok && best.status != FitStatus::not_settled)
            break;
        double worst = 0.0;
        WeighedCheck* foreign = nullptr;
        for (WeighedCheck& reading : readings) {
            if (!reading.is_used)
                continue;
            reading.deviations = deviations_of(best.observed, reading);
            if (reading.deviations > std::max(worst, k_foreign))
                foreign = &reading;
            worst = std::max(worst, reading.deviations);
        }
        if (foreign && (round > 0 || best.status != FitStatus::ok)) { // the worst, one at a time
            foreign->is_used = false;
            ++left_out;
            round = 0;
        }
        if (static_cast<double>(left_out) > k_most_left_out * static_cast<double>(count))
            break;
        if (worst < FitObserver::k_huber && !foreign)
            break;
    }
    fit.weighings = readings;
    if (best.status == FitStatus::stopped)
        return best;
    // one that didn't settle, and yet contradicts nothing, is taken, and says that it didn't
    if ((best.status != FitStatus::ok && best.status != FitStatus::not_settled) ||
        static_cast<double>(left_out) > k_most_left_out * static_cast<double>(count)) {
        for (WeighedCheck& reading : fit.weighings)
            reading.is_used = false;
        fit.weighed_doubt = doubt_of(fit.weighings, true);
        return alone;
    }
    if (left_out > 0)
        fit.weighed_doubt = doubt_of(fit.weighings, false);
    fit.weighed_sums = sums_of(best.observed);
    return best;
}

} // namespace platewright::plate
