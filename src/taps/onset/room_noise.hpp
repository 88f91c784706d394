#pragma once
#include <array>
#include <cstddef>

namespace platewright::taps {

/// The level of the room between the strikes: the lower fifth of the mean squares of the last two
/// seconds, in pieces of 20 ms, so that rings and voices in between don't raise it. Memory fixed.
/// RT.
class RoomNoise {
public:
    /// Adds the mean square of the next 20 ms.
    void add(double mean_square);
    /// RMS in dBFS; k_quietest_dbfs before 0.1 s have been heard, and never less.
    double level_dbfs() const { return level_dbfs_; }

    static constexpr double k_quietest_dbfs = -85; ///< below any microphone's own noise in the band

private:
    std::array<double, 100> squares_{};
    std::size_t count_ = 0, next_ = 0;
    double level_dbfs_ = k_quietest_dbfs;
};

} // namespace platewright::taps
