#pragma once
/// What the fit sees at one wood and arch: every measured value beside the model's.

#include "plate/fit/fit_inside.hpp"

#include <algorithm>

namespace platewright::plate {

/// Walks the sessions and solves each. References are kept. Threads: one at a time.
class FitObserver {
public:
    FitObserver(const PlateModel& model, const PlateWood& start,
                std::span<const FitSession> sessions, const FitPriors& priors,
                const std::function<bool()>& goes_on);

    /// Empty where the fit is to stop.
    Observations observe(const FitVector& unknowns);

    /// Covariance of the observations: each its own error, and the model's common to a mode and
    /// to the series.
    Eigen::MatrixXd covariance(const Observations& o) const;

    /// Weighings take part from the next observation on; each by its check's `is_used`, and less
    /// the more deviations it stands off.
    std::vector<WeighedCheck>& weighings() { return weighings_; }

    /// Heard modes that count, and the shapes of the model's modes that they are told by.
    struct Series {
        struct Row {
            std::size_t session = 0;
            SeriesMatch match;
        };
        std::vector<Row> rows;
        Eigen::MatrixXd shapes;
    };
    /// Those that the model explains at the last observation, the unknowns about it being this
    /// free. None counts before.
    void match_heard(const FitMatrix& covariance);
    Series& series() { return series_; }
    bool has_heard() const {
        return std::ranges::any_of(sessions_, [](const auto& s) { return !s.heard.empty(); });
    }
    /// What a mass's place may do is taken anew at the next observation; between, it stays, so that
    /// the costs of two rounds can be compared.
    void take_places_anew() { places_covariance_.resize(0, 0); }

    static constexpr double k_huber = 1.5; // deviations from which a weighing counts less
    /// What a weighing's variances are raised by (P. J. Huber's weights, turned over).
    static double held_off(double deviations) { return std::max(1.0, deviations / k_huber); }
    static bool is_of(const FitResidual& row, const WeighedCheck& reading) {
        return row.row == FitRow::weighed && row.session == reading.session &&
               row.reading == reading.reading;
    }

private:
    struct Place { // what a mass's place may do to a row
        std::size_t row;
        std::array<double, k_round> elsewhere;
    };
    void add(const FitResidual& row, double own_sd, const FitVector& slope);
    void observe_session(std::size_t s, const PlateGuess& at);
    void observe_series(std::size_t s, const FittedState& state);
    void observe_weighings(std::size_t s, const PlateGuess& at, const FittedState& state,
                           const Eigen::VectorXd& h);
    Eigen::MatrixXd covariance_of_places() const;

    const PlateModel& model_;
    const PlateWood& start_;
    std::span<const FitSession> sessions_;
    const FitPriors& priors_;
    const std::function<bool()>& goes_on_;
    std::vector<FittedState> states_; // as last observed
    Series series_;
    std::vector<WeighedCheck> weighings_;
    Eigen::MatrixXd places_covariance_;
    std::vector<FitResidual> rows_;
    std::vector<double> own_sd_;
    std::vector<FitVector> slopes_;
    std::vector<Place> places_;
};

} // namespace platewright::plate
