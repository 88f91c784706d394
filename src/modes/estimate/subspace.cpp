#include "modes/estimate/subspace.hpp"

#include "base/turning.hpp"
#include "taps/overlapping.hpp"

#include <Eigen/Dense>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

namespace platewright::modes {
namespace {

using std::numbers::pi;
using Complex = std::complex<double>;
using Eigen::Index;
using Eigen::MatrixXcd;
using Eigen::MatrixXd;
using Eigen::VectorXcd;

struct Decimated {
    std::vector<Complex> samples;
    long step = 1;
    double variance = 0.0; // of the noise in a sample, E|noise|²
};

/// Band-pass by a Blackman window of 3π/half samples (first null a band's width from the centre),
/// one value each `step` samples: each value draws on the samples from its own on.
Decimated decimate(std::span<const double> samples, const SubBand& band) {
    const auto size = static_cast<double>(samples.size());
    Decimated low;
    const long length = std::max(8L, std::lround(std::min(3.0 * pi / band.half, size / 4.0)));
    low.step = std::max(1L, std::lround(pi / (2.0 * band.half)));
    MatrixXd filter(length, 2); // real and imaginary part
    base::Turning along(pi / static_cast<double>(length), 2.0 * pi / static_cast<double>(length));
    base::Turning shift(0.0, -band.centre);
    for (Index k = 0; k < length; ++k) {
        const double cosine = along.next().real();
        const double window =
            0.34 - 0.5 * cosine + 0.16 * cosine * cosine; // 0.08 cos 2x = 0.16 cos²x - 0.08
        const Complex turned = window * shift.next();
        filter.row(k) << turned.real(), turned.imag();
        low.variance += window * window;
    }
    // More than this buys nothing for a start value and costs in the square.
    constexpr long most_samples = 160;
    const long last = static_cast<long>(samples.size()) - length;
    const long count = last < 0 ? 0 : std::min(most_samples, last / low.step + 1);
    const MatrixXd values =
        taps::overlapping(samples.data(), length, count, low.step).transpose() * filter;
    base::Turning back(0.0, -band.centre * static_cast<double>(low.step));
    for (Index n = 0; n < count; ++n)
        low.samples.push_back(Complex{values(n, 0), values(n, 1)} * back.next());
    return low;
}

/// Eigenvectors of the Hankel matrix's covariance, forward only (damping forbids the backward one).
MatrixXcd signal_space(const std::vector<Complex>& samples, Index rows, Index most) {
    const Index columns = static_cast<Index>(samples.size()) - rows + 1;
    MatrixXcd hankel(rows, columns);
    for (Index r = 0; r < rows; ++r) {
        for (Index c = 0; c < columns; ++c)
            hankel(r, c) = samples[static_cast<std::size_t>(r + c)];
    }
    const MatrixXcd covariance = hankel * hankel.adjoint();
    const Eigen::SelfAdjointEigenSolver<MatrixXcd> solver(covariance);
    return solver.eigenvectors().rightCols(most).rowwise().reverse();
}

std::vector<Complex> poles_of(const MatrixXcd& space, Index order) {
    const Index rows = space.rows() - 1;
    const MatrixXcd upper = space.topRows(rows).leftCols(order);
    const MatrixXcd lower = space.bottomRows(rows).leftCols(order);
    const MatrixXcd shift = upper.colPivHouseholderQr().solve(lower);
    const Eigen::ComplexEigenSolver<MatrixXcd> solver(shift, false);
    std::vector<Complex> poles;
    for (Index i = 0; i < order; ++i) {
        const Complex z = solver.eigenvalues()(i);
        if (std::abs(z) > 1e-6)
            poles.push_back(std::log(z));
    }
    return poles;
}

double energy_of(const std::vector<Complex>& samples) {
    return std::accumulate(samples.begin(), samples.end(), 0.0,
                           [](double sum, const Complex& x) { return sum + std::norm(x); });
}

double misfit(const std::vector<Complex>& samples, const std::vector<Complex>& poles) {
    if (poles.empty()) // all were gone at once, as after digital silence: none tells anything
        return energy_of(samples);
    const Index rows = static_cast<Index>(samples.size());
    MatrixXcd basis(rows, static_cast<Index>(poles.size()));
    for (Index c = 0; c < basis.cols(); ++c) {
        const double growth = poles[static_cast<std::size_t>(c)].real();
        const Complex s{std::min(growth, 0.0), poles[static_cast<std::size_t>(c)].imag()};
        const Complex step = std::exp(s);
        Complex power{1.0, 0.0};
        for (Index r = 0; r < rows; ++r) {
            basis(r, c) = power;
            power *= step;
        }
    }
    const VectorXcd data = Eigen::Map<const VectorXcd>(samples.data(), rows);
    const VectorXcd amplitudes = basis.colPivHouseholderQr().solve(data);
    return (data - basis * amplitudes).squaredNorm();
}

} // namespace

std::vector<Complex> subspace_poles(std::span<const double> samples, const SubBand& band,
                                    int most) {
    const Decimated low = decimate(samples, band);
    const Index count = static_cast<Index>(low.samples.size());
    const Index rows = std::min<Index>(count / 2, 24);
    const Index highest = std::min<Index>({most, rows - 1, count - rows});
    if (highest < 1)
        return {};
    const MatrixXcd space = signal_space(low.samples, rows, highest);
    // Four real numbers a pole, and the band's noise is the filter's.
    const double price = 4.0 * std::log(2.0 * static_cast<double>(count)) + 8.0;
    double best = 2.0 * energy_of(low.samples) / low.variance;
    std::vector<Complex> chosen;
    for (Index order = 1; order <= highest; ++order) {
        std::vector<Complex> poles = poles_of(space, order);
        const double criterion =
            2.0 * misfit(low.samples, poles) / low.variance + price * static_cast<double>(order);
        if (criterion < best) {
            best = criterion;
            chosen = std::move(poles);
        }
    }
    std::vector<Complex> found;
    for (const Complex& pole : chosen) {
        const Complex s = pole / static_cast<double>(low.step) + Complex{0.0, band.centre};
        const bool inside = std::abs(s.imag() - band.centre) <= band.half && s.imag() > 0.0;
        if (inside && s.imag() < pi)
            found.emplace_back(std::min(s.real(), 0.0), s.imag());
    }
    return found;
}

} // namespace platewright::modes
