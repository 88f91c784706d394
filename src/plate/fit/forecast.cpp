#include "base/interval.hpp"
#include "modes/mode.hpp"
#include "plate/fit/fit_inside.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::plate {
namespace {

const TappedMode* find(std::span<const TappedMode> modes, int number) {
    const auto found =
        std::find_if(modes.begin(), modes.end(), [&](const auto& m) { return m.number == number; });
    return found == modes.end() ? nullptr : &*found;
}

double variance(const TappedMode& m, const FitPriors& priors) {
    const double repeat = priors.repeat * m.frequency_hz;
    return m.sd_hz * m.sd_hz + repeat * repeat;
}

// A sample's modes at another thickness, started from those it has.
ShellModes modes_of(const PlateModel& model, const PlateGuess& plate,
                    const Eigen::VectorXd& thickness_mm, const ShellModes& like) {
    const Eigen::VectorXd h = thickness_mm.array() + plate.thickness_mm;
    return model.solve(model.surface(h, plate.arch), plate.wood,
                       static_cast<int>(like.frequency_hz.size()), like.shapes);
}

} // namespace

std::vector<ShiftForecast> forecast_shifts(const PlateModel& model, const PlateFit& fit,
                                           const FittedState& now, const FittedState& then,
                                           std::span<const int> numbers) {
    const auto followed = follow(model, now.modes.shapes, then.modes.shapes);
    std::vector<ShiftForecast> forecasts;
    for (const int number : numbers) {
        const int before = mode_index(now.names, number);
        if (before < 0 || before >= static_cast<int>(followed.size()))
            continue;
        const int after = followed[static_cast<std::size_t>(before)];
        if (after < 0)
            continue;
        ShiftForecast f;
        f.number = number;
        f.now_hz = now.modes.frequency_hz[before];
        f.then_hz = then.modes.frequency_hz[after];
        f.shift_hz = f.then_hz - f.now_hz;
        // the fit's errors move both states alike: only their difference counts
        const FitVector slope = then.by_unknown.col(after) - now.by_unknown.col(before);
        f.shift_sd_hz =
            std::hypot(std::sqrt(slope.dot(fit.covariance * slope)), k_shift_error * f.shift_hz);
        forecasts.push_back(f);
    }
    return forecasts;
}

std::vector<PlateSample> samples_at(const PlateModel& model, const PlateFit& fit,
                                    const Eigen::VectorXd& thickness_mm) {
    std::vector<PlateSample> samples = fit.samples;
    if (samples.empty() || thickness_mm == fit.sampled_mm)
        return samples;
    for (PlateSample& sample : samples) {
        sample.modes = modes_of(model, sample, thickness_mm, sample.modes);
        sample.names = ShapeJudge(model).names(sample.modes.shapes);
    }
    return samples;
}

std::vector<ShiftForecast> forecast_over(const PlateModel& model, const PlateFit& fit,
                                         const FittedState& now, const FittedState& then,
                                         std::span<const PlateSample> samples,
                                         const Eigen::VectorXd& then_mm,
                                         std::span<const int> numbers) {
    auto forecasts = forecast_shifts(model, fit, now, then, numbers);
    std::vector<std::vector<double>> shifts(forecasts.size());
    for (const PlateSample& sample : samples) {
        const ShellModes modes = modes_of(model, sample, then_mm, sample.modes);
        const auto followed = follow(model, sample.modes.shapes, modes.shapes);
        for (std::size_t k = 0; k < forecasts.size(); ++k) {
            const int before = mode_index(sample.names, forecasts[k].number);
            if (before < 0 || before >= static_cast<int>(followed.size()))
                continue;
            if (const int after = followed[static_cast<std::size_t>(before)]; after >= 0)
                shifts[k].push_back(modes.frequency_hz[after] - sample.modes.frequency_hz[before]);
        }
    }
    for (std::size_t k = 0; k < forecasts.size(); ++k) {
        const auto count = static_cast<double>(shifts[k].size());
        if (count < 2.0)
            continue;
        ShiftForecast& f = forecasts[k];
        const double linear =
            std::max(0.0, f.shift_sd_hz * f.shift_sd_hz - std::pow(k_shift_error * f.shift_hz, 2));
        double mean = 0.0, square = 0.0;
        for (const double shift : shifts[k])
            mean += shift / count;
        for (const double shift : shifts[k])
            square += (shift - mean) * (shift - mean);
        f.shift_hz = mean;
        f.then_hz = f.now_hz + mean;
        // A plan was chosen where few samples happen to agree: where the straight line over the
        // whole covariance is wider, it holds; where it is narrower, both count alike.
        const double pooled = (count * linear + square) / (2.0 * count - 1.0);
        f.shift_sd_hz = std::sqrt(std::max(linear, pooled) + std::pow(k_shift_error * mean, 2));
    }
    return forecasts;
}

std::vector<Hindsight> hindsight(std::span<const ShiftForecast> forecast,
                                 std::span<const TappedMode> before,
                                 std::span<const TappedMode> after, const FitPriors& priors,
                                 bool is_in_one_air) {
    std::vector<Hindsight> all;
    for (const auto& f : forecast) {
        const TappedMode* was = find(before, f.number);
        const TappedMode* is = find(after, f.number);
        if (!was || !is)
            continue;
        Hindsight h;
        h.number = f.number;
        h.expected_hz = was->frequency_hz + f.shift_hz;
        h.tapped_hz = is->frequency_hz;
        const double taps = variance(*was, priors) + variance(*is, priors);
        const double sd = std::sqrt(f.shift_sd_hz * f.shift_sd_hz + taps);
        h.deviations = (h.tapped_hz - h.expected_hz) / sd;
        h.text =
            wording::say("{} was expected at {} \u00b1 {} Hz and was tapped at {} Hz: ",
                         modes::mode_text(f.number), wording::figure(h.expected_hz, 1),
                         wording::figure(base::plus_minus(sd), 1), wording::figure(h.tapped_hz, 1));
        h.text += std::abs(h.deviations) <= base::plus_minus(1.0) ? wording::say("as expected.")
                  : is_in_one_air
                      ? wording::say("further off than its uncertainty, in one air. Was the wood "
                                     "taken where the plan said, and had the plate settled?")
                      : wording::say("further off than its uncertainty. Was the wood taken where "
                                     "the plan said, and has the plate settled to the same "
                                     "humidity?");
        all.push_back(h);
    }
    return all;
}

} // namespace platewright::plate
