#include "taps/onset/room_noise.hpp"

#include "base/level.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::taps {

void RoomNoise::add(double mean_square) {
    squares_[next_] = mean_square;
    next_ = (next_ + 1) % squares_.size();
    count_ = std::min(count_ + 1, squares_.size());
    if (count_ < 5)
        return;
    auto sorted = squares_;
    const auto fifth = sorted.begin() + static_cast<std::ptrdiff_t>(count_ / 5);
    std::nth_element(sorted.begin(), fifth, sorted.begin() + static_cast<std::ptrdiff_t>(count_));
    level_dbfs_ = std::max(k_quietest_dbfs, base::amplitude_to_db(std::sqrt(*fifth)));
}

} // namespace platewright::taps
