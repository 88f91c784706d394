#include "modes/signal/spectrum.hpp"
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace platewright::modes;

namespace {

std::vector<float> sine(double hz, double rate_hz, double seconds) {
    std::vector<float> samples(static_cast<std::size_t>(seconds * rate_hz));
    for (std::size_t n = 0; n < samples.size(); ++n)
        samples[n] = static_cast<float>(
            std::sin(2 * std::numbers::pi * hz * static_cast<double>(n) / rate_hz));
    return samples;
}

double peak_hz(const Spectrum& s) {
    return s.step_hz *
           static_cast<double>(std::max_element(s.level_dbfs.begin(), s.level_dbfs.end()) -
                               s.level_dbfs.begin());
}

} // namespace

TEST_CASE("a full-scale sine reads 0 dBFS at its frequency, at every rate") {
    for (const double rate : {8000.0, 44100.0, 48000.0, 192000.0}) {
        const Spectrum s = spectrum(sine(440, rate, 1.0), rate, 2500);
        CHECK(s.step_hz == k_spectrum_step_hz);
        CHECK(s.level_dbfs.size() == 5001);
        CHECK(peak_hz(s) == Approx(440).margin(0.5));
        CHECK(*std::max_element(s.level_dbfs.begin(), s.level_dbfs.end()) == Approx(0).margin(0.1));
    }
}

TEST_CASE("spectra of other lengths and rates share a grid, and their mean is one of power") {
    const std::vector<Spectrum> pair{spectrum(sine(300, 48000, 0.7), 48000, 1000),
                                     spectrum(sine(300, 44100, 1.0), 44100, 1000)};
    const Spectrum mean = mean_spectrum(pair);
    CHECK(mean.level_dbfs.size() == pair[0].level_dbfs.size());
    CHECK(mean.level_dbfs[600] == Approx(0).margin(0.1));
    CHECK(mean_spectrum({}).level_dbfs.empty());
    CHECK(spectrum({}, 48000, 1000).level_dbfs.empty());
}
