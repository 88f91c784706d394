#pragma once
#include <span>

namespace platewright::base {

/// Largest magnitude among samples, 0 of none; infinite or NaN if any of them is no finite number.
/// RT.
float loudest(std::span<const float> samples);

} // namespace platewright::base
