#pragma once

#include <cmath>
#include <cstdint>
#include <numbers>
#include <random>

namespace demo {

/// Random numbers that are the same with every compiler and library: the standard fixes the bits
/// of mt19937_64 but not what its distributions make of them, so those are written out here.
class Random {
public:
    explicit Random(std::uint64_t seed) : bits_(seed) {}

    /// Evenly spread over [0, 1).
    double even() { return static_cast<double>(bits_() >> 11) * 0x1.0p-53; }

    double between(double low, double high) { return low + (high - low) * even(); }

    /// Gaussian with mean 0 and standard deviation 1 (Box and Muller 1958, one of the pair).
    double normal() {
        const double radius = std::sqrt(-2.0 * std::log(1.0 - even()));
        return radius * std::cos(2.0 * std::numbers::pi * even());
    }

private:
    std::mt19937_64 bits_;
};

} // namespace demo
