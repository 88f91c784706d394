#include "modes/estimate/exponential_sums.hpp"
#include "support/catch.hpp"

#include <cmath>

using namespace platewright;
using Complex = std::complex<double>;

namespace {

/// The definition, in long double.
modes::PowerSums summed(Complex s, long first, long count) {
    std::complex<long double> sums[3];
    for (long n = first; n < first + count; ++n) {
        const auto t = static_cast<long double>(n);
        const auto term =
            std::exp(std::complex<long double>(s.real(), s.imag()) * std::complex<long double>(t));
        sums[0] += term;
        sums[1] += t * term;
        sums[2] += t * t * term;
    }
    const auto narrow = [](std::complex<long double> z) {
        return Complex(static_cast<double>(z.real()), static_cast<double>(z.imag()));
    };
    return {narrow(sums[0]), narrow(sums[1]), narrow(sums[2])};
}

double relative(Complex got, Complex wanted) { return std::abs(got - wanted) / std::abs(wanted); }

} // namespace

TEST_CASE("power sums agree with the definition, near s = 0 and far from it") {
    const double pi = 3.14159265358979;
    for (long count : {5L, 64L, 1000L, 7001L}) {
        for (Complex s : {Complex(0, 0), Complex(-1e-7, 0), Complex(-3e-5, 1e-5), Complex(0, 2e-5),
                          Complex(-2e-4, 3e-4), Complex(-0.002, 0.3), Complex(-0.05, 2.9),
                          Complex(-1e-6, 2 * pi), Complex(1e-5, 0)}) {
            const auto got = modes::exponential_sums(s, count);
            const auto wanted = summed(s, 0, count);
            CAPTURE(count, s.real(), s.imag());
            CHECK(relative(got.zeroth, wanted.zeroth) < 1e-10);
            CHECK(relative(got.first, wanted.first) < 1e-10);
            CHECK(relative(got.second, wanted.second) < 1e-10);
        }
    }
}

TEST_CASE("power sums over a range before zero agree with the definition") {
    const Complex s(0, 0.2);
    const auto got = modes::exponential_sums(s, -1500, 1300);
    const auto wanted = summed(s, -1500, 1300);
    CHECK(relative(got.zeroth, wanted.zeroth) < 1e-9);
    CHECK(relative(got.first, wanted.first) < 1e-9);
    CHECK(relative(got.second, wanted.second) < 1e-9);
}
