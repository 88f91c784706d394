#include "modes/spectrum.hpp"

#include "base/level.hpp"

#include <kissfft/kiss_fftr.h>

#include <algorithm>
#include <cmath>
#include <new>
#include <numbers>
#include <stdexcept>

namespace platewright::modes {

static_assert(sizeof(kiss_fft_cpx) == sizeof(std::complex<float>), "KissFFT must be the float one");

std::size_t fast_length(std::size_t at_least) {
    const std::size_t half = std::max<std::size_t>(1, (at_least + 1) / 2);
    return 2 * static_cast<std::size_t>(kiss_fft_next_fast_size(static_cast<int>(half)));
}

struct RealTransform::Plan {
    explicit Plan(std::size_t length)
        : config(kiss_fftr_alloc(static_cast<int>(length), 0, nullptr, nullptr)), input(length),
          output(length / 2 + 1) {
        if (config == nullptr)
            throw std::bad_alloc();
    }
    ~Plan() { kiss_fftr_free(config); }
    Plan(const Plan&) = delete;
    Plan& operator=(const Plan&) = delete;

    kiss_fftr_cfg config;
    std::vector<float> input;                // length
    std::vector<std::complex<float>> output; // length/2 + 1
};

RealTransform::RealTransform(std::size_t length) {
    if (length < 2 || length % 2 != 0)
        throw std::invalid_argument("transform length must be even");
    plan_ = std::make_unique<Plan>(length);
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
    kiss_fftr(plan_->config, plan_->input.data(),
              reinterpret_cast<kiss_fft_cpx*>(plan_->output.data()));
    return plan_->output;
}

Spectrum spectrum(std::span<const float> samples, double sample_rate_hz, double highest_hz) {
    if (!(sample_rate_hz > 0.0))
        throw std::invalid_argument("spectrum needs a sample rate above 0");
    if (samples.empty())
        return {};
    RealTransform transform(fast_length(4 * samples.size()));
    std::vector<double> windowed(samples.size());
    double weight = 0.0;
    for (std::size_t n = 0; n < samples.size(); ++n) {
        const double along = (static_cast<double>(n) + 0.5) / static_cast<double>(samples.size());
        const double window = 0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * along);
        windowed[n] = window * static_cast<double>(samples[n]);
        weight += window;
    }
    Spectrum result;
    result.step_hz = sample_rate_hz / static_cast<double>(transform.length());
    for (const std::complex<float>& bin : transform.transform(windowed)) {
        if (static_cast<double>(result.level_dbfs.size()) * result.step_hz > highest_hz)
            break;
        const double amplitude = 2.0 * static_cast<double>(std::abs(bin)) / weight;
        result.level_dbfs.push_back(static_cast<float>(base::amplitude_to_db(amplitude)));
    }
    return result;
}

Spectrum mean_spectrum(std::span<const Spectrum> spectra) {
    if (spectra.empty())
        return {};
    Spectrum mean{spectra.front().step_hz, {}};
    std::vector<double> power(spectra.front().level_dbfs.size());
    for (const Spectrum& one : spectra) {
        if (one.step_hz != mean.step_hz || one.level_dbfs.size() != power.size()) {
            throw std::invalid_argument("mean_spectrum needs spectra on one grid");
        }
        for (std::size_t i = 0; i < power.size(); ++i) {
            const double amplitude = base::db_to_amplitude(static_cast<double>(one.level_dbfs[i]));
            power[i] += amplitude * amplitude / static_cast<double>(spectra.size());
        }
    }
    for (double p : power) {
        mean.level_dbfs.push_back(static_cast<float>(base::amplitude_to_db(std::sqrt(p))));
    }
    return mean;
}

} // namespace platewright::modes
