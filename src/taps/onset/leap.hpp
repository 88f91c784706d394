#pragma once
#include "base/level.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace platewright::taps {

/// How the newest hop of 1 ms, smoothed over three, stands above what was before it.
class Leap {
public:
    static constexpr double k_hop_s = 0.001;

    /// low_hz: the band's lowest frequency.
    explicit Leap(double low_hz)
        : looked_back_(std::clamp<std::size_t>(
              static_cast<std::size_t>(k_cycles_past / (low_hz * k_hop_s)) + k_rise, 32, k_past)) {}

    /// Takes the next hop's mean square into the past.
    void add(double mean_square) {
        recent_[at_ % k_smoothed] = mean_square;
        double smoothed = 0;
        for (const double r : recent_)
            smoothed += r / k_smoothed;
        double before = 0;
        for (std::size_t back = k_rise; back < looked_back_; ++back)
            before = std::max(before, past_[(at_ + k_past - back) % k_past]);
        past_[at_ % k_past] = smoothed;
        ++at_;
        level_dbfs_ = base::amplitude_to_db(std::sqrt(smoothed));
        before_dbfs_ = base::amplitude_to_db(std::sqrt(before));
    }
    double level_dbfs() const { return level_dbfs_; }
    /// A strike leaps; a voice or a beat swells.
    bool is_sudden() const { return level_dbfs_ > before_dbfs_ + k_sudden_db; }

private:
    static constexpr std::size_t k_smoothed = 3;
    static constexpr std::size_t k_past = 80;    // it is set against the loudest of 30 ms, or
    static constexpr double k_cycles_past = 0.9; // nearly a cycle of the band's lowest, whose
                                                 // crests are no strikes,
    static constexpr std::size_t k_rise = 6;     // that ended this long ago
    static constexpr double k_sudden_db = 7;

    std::size_t looked_back_;
    std::array<double, k_past> past_{}; // smoothed mean squares, newest at at_ − 1
    std::array<double, k_smoothed> recent_{};
    std::size_t at_ = 0;
    double level_dbfs_ = 0, before_dbfs_ = 0;
};

} // namespace platewright::taps
