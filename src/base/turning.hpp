#pragma once
#include <complex>

namespace platewright::base {

/// e^{jφ}, e^{j(φ+θ)}, e^{j(φ+2θ)} …: one complex product a value, where sine and cosine of each
/// angle would take several times as long. Its error grows by about 1e-16 a value.
class Turning {
public:
    Turning(double first_rad, double step_rad)
        : value_(std::polar(1.0, first_rad)), step_(std::polar(1.0, step_rad)) {}
    std::complex<double> next() {
        const std::complex<double> here = value_;
        value_ = {here.real() * step_.real() - here.imag() * step_.imag(),
                  here.real() * step_.imag() + here.imag() * step_.real()};
        return here;
    }

private:
    std::complex<double> value_, step_;
};

} // namespace platewright::base
