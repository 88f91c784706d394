#include "base/loudest.hpp"

#include <algorithm>
#include <bit>
#include <cstdint>

namespace platewright::base {

// Magnitudes of IEEE 754 floats are in the order of their bits, what is not finite above all that
// is: whole numbers, of which a processor compares several at a time.
float loudest(std::span<const float> samples) {
    std::int32_t most = 0;
    for (const float x : samples)
        most = std::max(most, std::bit_cast<std::int32_t>(x) & 0x7fffffff);
    return std::bit_cast<float>(most);
}

} // namespace platewright::base
