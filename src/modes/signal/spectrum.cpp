#include "modes/signal/spectrum.hpp"

#include "base/level.hpp"

#include <kissfft/kiss_fftr.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <new>
#include <numbers>
#include <stdexcept>

namespace platewright::modes {

static_assert(sizeof(kiss_fft_cpx) == sizeof(std::complex<float>), "KissFFT must be the float one");

std::size_t fast_length(std::size_t at_least) {
    std::size_t length = 2;
    while (length < at_least)
        length *= 2;
    const std::size_t between = length / 4 * 3;
    return between >= at_least && between % 2 == 0 ? between : length;
}

struct RealTransform::Plan {
    explicit Plan(std::size_t length)
        : config(kiss_fftr_alloc(static_cast<int>(length), 0, nullptr, nullptr)), input(length) {
        if (config == nullptr)
            throw std::bad_alloc();
    }
    ~Plan() { kiss_fftr_free(config); }
    Plan(const Plan&) = delete;
    Plan& operator=(const Plan&) = delete;

    kiss_fftr_cfg config;
    std::vector<float> input; // length
};

RealTransform::RealTransform(std::size_t length) : output_(length / 2 + 1) {
    if (length < 2 || length % 2 != 0)
        throw std::invalid_argument("transform length must be even");
    // A plan's twiddle factors cost more than a transform: each thread keeps its own.
    constexpr std::size_t kept_plans = 24;
    thread_local std::map<std::size_t, std::shared_ptr<Plan>> plans;
    if (plans.size() > kept_plans)
        plans.clear();
    std::shared_ptr<Plan>& plan = plans[length];
    if (!plan)
        plan = std::make_shared<Plan>(length);
    plan_ = plan;
}
RealTransform::~RealTransform() = default;
RealTransform::RealTransform(RealTransform&&) noexcept = default;
RealTransform& RealTransform::operator=(RealTransform&&) noexcept = default;

std::size_t RealTransform::length() const noexcept { return plan_->input.size(); }

std::span<const std::complex<float>> RealTransform::transform(std::span<const double> samples) {
    if (samples.size() > length())
        throw std::invalid_argument("more samples than the transform");
    const auto rest = std::transform(samples.begin(), samples.end(), plan_->input.begin(),
                                     [](double x) { return static_cast<float>(x); });
    std::fill(rest, plan_->input.end(), 0.0F);
    kiss_fftr(plan_->config, plan_->input.data(), reinterpret_cast<kiss_fft_cpx*>(output_.data()));
    return output_;
}

Spectrum spectrum(std::span<const float> ring, double sample_rate_hz, double highest_hz) {
    if (!(sample_rate_hz > 0.0))
        throw std::invalid_argument("spectrum needs a sample rate above 0");
    if (ring.empty())
        return {};
    // At least as fine as the grid, and four times as fine as the ring's own length gives.
    const auto at_least = static_cast<std::size_t>(std::ceil(sample_rate_hz / k_spectrum_step_hz));
    RealTransform transform(fast_length(std::max(4 * ring.size(), at_least)));
    std::vector<double> windowed(ring.size());
    double weight = 0.0;
    for (std::size_t n = 0; n < ring.size(); ++n) {
        const double along = (static_cast<double>(n) + 0.5) / static_cast<double>(ring.size());
        const double window = 0.5 + 0.5 * std::cos(std::numbers::pi * along);
        windowed[n] = window * static_cast<double>(ring[n]);
        weight += window;
    }
    const auto bins = transform.transform(windowed);
    const auto level_dbfs = [&](std::size_t bin) {
        return base::amplitude_to_db(2.0 * static_cast<double>(std::abs(bins[bin])) / weight);
    };
    const double bin_hz = sample_rate_hz / static_cast<double>(transform.length());
    Spectrum result{k_spectrum_step_hz, {}};
    for (double hz = 0.0; hz <= std::min(highest_hz, 0.5 * sample_rate_hz - bin_hz);
         hz += k_spectrum_step_hz) {
        const auto below = static_cast<std::size_t>(hz / bin_hz);
        const double share = hz / bin_hz - static_cast<double>(below);
        result.level_dbfs.push_back(
            static_cast<float>((1.0 - share) * level_dbfs(below) + share * level_dbfs(below + 1)));
    }
    return result;
}

void RunningMean::add(const Spectrum& one) {
    if (count_++ == 0)
        power_.assign(one.level_dbfs.size(), 0.0);
    power_.resize(std::min(power_.size(), one.level_dbfs.size()));
    for (std::size_t i = 0; i < power_.size(); ++i) {
        const double amplitude = base::db_to_amplitude(static_cast<double>(one.level_dbfs[i]));
        power_[i] += amplitude * amplitude;
    }
}

Spectrum RunningMean::mean() const {
    if (count_ == 0)
        return {};
    Spectrum mean{k_spectrum_step_hz, {}};
    for (const double sum : power_)
        mean.level_dbfs.push_back(static_cast<float>(
            base::amplitude_to_db(std::sqrt(sum / static_cast<double>(count_)))));
    return mean;
}

Spectrum mean_spectrum(std::span<const Spectrum> spectra) {
    RunningMean running;
    for (const Spectrum& one : spectra)
        running.add(one);
    return running.mean();
}

} // namespace platewright::modes
